"""What a bay has: technicians on shifts, floor positions and heater sets."""

from dataclasses import dataclass

from planner.domain.bay_time import Span, overlapping
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """A stretch in which one technician is in the bay, with the breaks inside it."""

    span: Span
    breaks: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if self.span.minutes < 1:
            raise InvalidValueError(_("a shift must end after it starts"))
        if not all(self.span.holds(pause) and pause.minutes for pause in self.breaks):
            raise InvalidValueError(_("a break must lie inside its shift and end after it starts"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Technician:
    """Somebody who does hands-on work or attends cures while on shift."""

    id: str
    skills: frozenset[str]
    shifts: tuple[Shift, ...]

    def __post_init__(self) -> None:
        if any(overlapping(shift.span for shift in self.shifts)):
            raise InvalidValueError(_("the shifts of {id} must not overlap", id=self.id))


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """A place on the floor for one tyre at a time."""

    id: str
    kinds: frozenset[str]
    closed: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterSet:
    """Pads, bags and frame that cure one tyre at a time."""

    id: str
    channels: int
    power_kw: float
    turnaround_minutes: int = 0
    closed: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if self.channels < 0 or self.power_kw < 0 or self.turnaround_minutes < 0:
            raise InvalidValueError(
                _("channels, power and turnaround of {id} must not be negative", id=self.id)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class BayRules:
    """How cures are attended and what the supply can carry."""

    cures_per_attendant: int
    watch_skill: str
    attendant_may_work: bool
    watch_through_breaks: bool
    watch_cool_down: bool
    handover_allowed: bool
    power_limit_kw: float | None = None
    channel_limit: int | None = None

    def __post_init__(self) -> None:
        if self.cures_per_attendant < 1:
            raise InvalidValueError(_("cures_per_attendant must be at least 1"))
