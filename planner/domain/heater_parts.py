"""The parts of a heater set, and what keeps a set out of use."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states import PartState


class PartKind(StrEnum):
    """What a heater set is made of."""

    INSIDE_PAD = "inside_pad"
    OUTSIDE_PAD = "outside_pad"
    INSIDE_BAG = "inside_bag"
    OUTSIDE_BAG = "outside_bag"
    FRAME = "frame"

    @property
    def words(self) -> str:
        """The part in plain words."""
        return self.value.replace("_", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPart:
    """One part with its state and the day its next inspection is due (None: no date is kept)."""

    kind: PartKind
    state: PartState
    inspection_due_on: date | None = None

    def fault_on(self, day: date) -> str | None:
        """Why it may not be used on `day`, in plain words; None where it may."""
        if self.state is not PartState.FIT:
            return _("its {part:phrase} is {state}", part=self.kind.words, state=self.state)
        if self.inspection_due_on is not None and self.inspection_due_on < day:
            return _(
                "the inspection of its {part:phrase} was due on {due_on}",
                part=self.kind.words,
                due_on=self.inspection_due_on,
            )
        return None


def set_faults(parts: tuple[SetPart, ...], day: date) -> tuple[str, ...]:
    """Everything that keeps the set of these parts out of use on `day`; a missing part counts."""
    present = {part.kind for part in parts}
    missing = [_("it has no {part:phrase}", part=kind.words) for kind in PartKind if kind not in present]
    return (*missing, *(fault for part in parts if (fault := part.fault_on(day))))
