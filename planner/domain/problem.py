"""A bay problem: everything a planner may know, in whole minutes after the horizon's start."""

from dataclasses import dataclass
from datetime import datetime

from planner.domain.bay_time import Span
from planner.domain.errors import InvalidValueError
from planner.domain.plan import PlannedJob
from planner.domain.resources import BayRules, HeaterSet, Position, Technician
from planner.domain.sentences import _
from planner.domain.work import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class BayProblem:
    """Jobs to plan with the bay's people, places, sets and rules.

    `origin` is the horizon's start as an aware time; every other time is in minutes after it, and
    `horizon_end` is where everything planned must be over. Times need not lie on the grid.
    """

    time_zone: str
    origin: datetime
    horizon_end: int
    grid_minutes: int
    rules: BayRules
    technicians: tuple[Technician, ...]
    positions: tuple[Position, ...]
    heater_sets: tuple[HeaterSet, ...]
    jobs: tuple[Job, ...]
    power_off: tuple[Span, ...] = ()
    locked: tuple[PlannedJob, ...] = ()

    def __post_init__(self) -> None:
        if self.origin.tzinfo is None:
            raise InvalidValueError(_("the horizon's start must carry its offset from UTC"))
        if self.horizon_end < 1:
            raise InvalidValueError(_("the horizon must end after it starts"))
        if not 1 <= self.grid_minutes <= 60:
            raise InvalidValueError(_("grid_minutes must be from 1 to 60"))
