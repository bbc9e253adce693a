"""The nearest time at which a refused move would hold."""

from collections.abc import Iterator
from dataclasses import replace

from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.services.plan_edit.moving import Move, moved_jobs, planned_job
from planner.services.plan_edit.placing import Placed, breaches_alone, breaches_of_work, place

_FINE, _COARSE, _FAR = 60, 30, 1440
_MOST_PLACED = 25


def placed_move(problem: BayProblem, schedule: Schedule, move: Move) -> Placed:
    """The schedule with the move made, in the gentlest way that holds; else the fewest breaches."""
    others = [job for job in schedule.jobs if job.id != move.job]
    refused: list[Placed] = []
    for moved in moved_jobs(problem, schedule, move):
        placed = place(problem, [*others, moved])
        if placed.schedule is not None:
            return placed
        refused.append(placed)
    return min(refused, key=lambda each: (not each.named, len(each.breaches)))


def nearest_move(problem: BayProblem, schedule: Schedule, move: Move) -> Move | None:
    """The move to the nearest other time that holds, not where it stands; None within a day of it."""
    others = [job for job in schedule.jobs if job.id != move.job]
    tried = 0
    here = _start_of(schedule, move)
    for start in _starts(problem, move.start):
        if start == here:
            continue
        if tried >= _MOST_PLACED:
            return None
        near = replace(move, start=start)
        if not _may_hold(problem, schedule, others, near):
            continue
        tried += 1
        if placed_move(problem, schedule, near).schedule is not None:
            return near
    return None


def _start_of(schedule: Schedule, move: Move) -> int:
    """Where the moved group stands now."""
    return next(stage.start for stage in planned_job(schedule, move.job).stages if stage.name == move.stage)


def _may_hold(problem: BayProblem, schedule: Schedule, others: list[PlannedJob], move: Move) -> bool:
    """Whether some way to make the move breaks nothing but, perhaps, the watch."""
    job = next(each for each in problem.jobs if each.id == move.job)
    alone: dict[tuple[object, ...], bool] = {}
    for moved in moved_jobs(problem, schedule, move):
        if len(moved.stages) < len(job.stages):
            continue
        # The same times at another position break the job's own rules as well.
        times = tuple((stage.start, stage.end, stage.technicians) for stage in moved.stages)
        if times not in alone:
            alone[times] = not breaches_alone(problem, job, moved)
        if alone[times] and not breaches_of_work(problem, [*others, moved]):
            return True
    return False


def _starts(problem: BayProblem, wanted: int) -> Iterator[int]:
    """Times around the wanted one, nearest first: each grid step for an hour, then half-hours for a day."""
    grid = problem.grid_minutes
    coarse = max(grid, _COARSE // grid * grid)
    distances = [*range(grid, _FINE + 1, grid), *range(_FINE + coarse, _FAR + 1, coarse)]
    for distance in distances:
        for start in (wanted + distance, wanted - distance):
            if 0 <= start < problem.horizon_end:
                yield start
