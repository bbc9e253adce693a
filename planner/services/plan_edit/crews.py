"""Who does a stage at another time: its own crew where they can, else others with the skill."""

from collections.abc import Iterable

from planner.domain.bay_time import Span, round_up
from planner.domain.plan import PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import Technician
from planner.domain.work import Stage
from planner.selectors.day_problem.crew_time import crew_end


def crew_at(
    problem: BayProblem, schedule: Schedule, asked: Stage, stage: PlannedStage, job: str
) -> tuple[str, ...] | None:
    """As many as the stage asks for who have the skill, are there and have nothing else to do.

    Its own crew comes first; None where there are too few.
    """
    free = [
        technician.id
        for technician in _own_first(problem.technicians, stage.technicians)
        if asked.skill in technician.skills
        and _is_there(problem, technician, asked, stage.start)
        and not _is_busy(schedule, technician.id, stage.span, job)
    ]
    return tuple(free[: asked.crew]) if len(free) >= asked.crew else None


def _own_first(technicians: Iterable[Technician], own: tuple[str, ...]) -> list[Technician]:
    return sorted(technicians, key=lambda technician: technician.id not in own)


def _is_there(problem: BayProblem, technician: Technician, asked: Stage, start: int) -> bool:
    minutes = round_up(asked.minutes, problem.grid_minutes)
    end = crew_end(start, minutes, [technician], problem.grid_minutes, pausable=asked.pausable)
    return end is not None


def _is_busy(schedule: Schedule, technician: str, span: Span, job: str) -> bool:
    return any(
        technician in stage.technicians and stage.span.meets(span)
        for planned in schedule.jobs
        if planned.id != job
        for stage in planned.stages
    )
