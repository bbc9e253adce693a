"""Machine shops as bays: a machine is a technician with a skill of its own, on shift all the time."""

from collections.abc import Sequence
from datetime import UTC, datetime

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import BayRules, Shift, Technician
from planner.domain.work import Job, Stage, StageKind

RULES = BayRules(
    cures_per_attendant=1,
    watch_skill="none",
    attendant_may_work=True,
    watch_through_breaks=True,
    watch_cool_down=True,
    handover_allowed=True,
)


def shop(jobs: Sequence[Job], machines: int, horizon: int) -> BayProblem:
    """A bay of that many machines, open for the whole horizon, on a grid of one minute."""
    technicians = (
        Technician(
            id=f"M{machine}",
            skills=frozenset({f"machine {machine}"}),
            shifts=(Shift(span=Span(0, horizon)),),
        )
        for machine in range(machines)
    )
    return BayProblem(
        time_zone="UTC",
        origin=datetime(2026, 3, 2, tzinfo=UTC),
        horizon_end=horizon,
        grid_minutes=1,
        rules=RULES,
        technicians=tuple(technicians),
        positions=(),
        heater_sets=(),
        jobs=tuple(jobs),
    )


def operation(index: int, machine: int, minutes: int) -> Stage:
    """One operation on one machine."""
    return Stage(
        name=f"operation {index}",
        kind=StageKind.HANDS_ON,
        minutes=minutes,
        crew=1,
        skill=f"machine {machine}",
    )
