"""The work on one tyre: a job and its stages."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


class StageKind(StrEnum):
    """What a stage asks of the bay."""

    HANDS_ON = "hands_on"
    ENERGISED = "energised"
    PRESSURISED = "pressurised"
    WAIT = "wait"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One step of a job. Durations are whole elapsed minutes, not yet rounded to the bay's grid."""

    name: str
    kind: StageKind
    minutes: int
    crew: int = 0
    skill: str | None = None
    pausable: bool = False
    block: bool = False
    place: str | None = None
    min_wait_after: int = 0
    max_wait_after: int | None = None

    def __post_init__(self) -> None:
        if self.minutes < 1:
            raise InvalidValueError(_("a stage's minutes must be more than 0"))
        hands_on = self.kind is StageKind.HANDS_ON
        if hands_on and (self.crew < 1 or self.skill is None):
            raise InvalidValueError(_("a hands-on stage needs a crew of at least 1 and a skill"))
        if not hands_on and (self.crew or self.skill is not None or self.pausable):
            raise InvalidValueError(_("only a hands-on stage has a crew, a skill or pauses"))
        if self.min_wait_after < 0 or (self.max_wait_after is not None and self.max_wait_after < 0):
            raise InvalidValueError(_("a wait must not be negative"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One repair of one tyre; `released_at` and `needed_by` in minutes after the horizon's start."""

    id: str
    priority: int
    released_at: int
    needed_by: int
    stages: tuple[Stage, ...]
    after: tuple[str, ...] = ()
    heater_sets: tuple[str, ...] = ()
    positions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not 1 <= self.priority <= 100:
            raise InvalidValueError(_("a priority must be from 1 to 100"))
        if not self.stages:
            raise InvalidValueError(_("a job must have at least one stage"))
        names = [stage.name for stage in self.stages]
        if len(set(names)) != len(names):
            raise InvalidValueError(_("stage names must be unique in their job"))
        block = self.block
        if block and block != tuple(range(block[0], block[-1] + 1)):
            raise InvalidValueError(_("the stages of a heat block must follow one another"))

    @property
    def block(self) -> tuple[int, ...]:
        """Places in `stages` of the heat block, in order; empty where the job has none."""
        return tuple(index for index, stage in enumerate(self.stages) if stage.block)

    def stays(self) -> tuple[range, ...]:
        """Runs of consecutive stages that hold one position together, as ranges of `stages`."""
        runs: list[range] = []
        for index, stage in enumerate(self.stages):
            if stage.place is None:
                continue
            if runs and runs[-1].stop == index and self.stages[index - 1].place == stage.place:
                runs[-1] = range(runs[-1].start, index + 1)
            else:
                runs.append(range(index, index + 1))
        return tuple(runs)
