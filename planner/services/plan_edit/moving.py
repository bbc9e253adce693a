"""Where a moved stage or heat block comes to stand: its own times, crews, set and position."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from planner.domain.bay_time import round_up
from planner.domain.errors import InvalidValueError, NotFoundError
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.sentences import _
from planner.domain.work import Job
from planner.selectors.day_problem.crew_time import crew_end
from planner.services.plan_edit.crews import crew_at


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Put a stage, or the heat block that it belongs to, at `start` [min]; None keeps what it has.

    `technician` takes the place of `instead_of` in the stage's crew.
    """

    job: str
    stage: str
    start: int
    heater_set: str | None = None
    position: str | None = None
    technician: str | None = None
    instead_of: str | None = None


def planned_job(schedule: Schedule, job: str) -> PlannedJob:
    """The job in the schedule; NotFoundError where it is left out."""
    for planned in schedule.jobs:
        if planned.id == job:
            return planned
    raise NotFoundError(_("{job} is not in this plan: put it first, or build a new plan", job=job))


def moved_group(job: Job, stage: str) -> range:
    """The stages that move together: the heat block of a block's stage, else the one stage."""
    names = [each.name for each in job.stages]
    if stage not in names:
        raise NotFoundError(_("{id} has no stage {stage}", id=job.id, stage=stage))
    place = names.index(stage)
    return range(job.block[0], job.block[-1] + 1) if place in job.block else range(place, place + 1)


def moved_jobs(problem: BayProblem, schedule: Schedule, move: Move) -> Iterator[PlannedJob]:
    """The job as the move would have it, the gentlest way first.

    First the group alone; then with what follows left for the planner to place again; then the whole job
    shifted. Each on the position that it has or is moved to, then on every other that would do.
    """
    job = next((each for each in problem.jobs if each.id == move.job), None)
    if job is None:
        raise NotFoundError(_("there is no job {job} in this plan", job=move.job))
    planned = planned_job(schedule, move.job)
    group = moved_group(job, move.stage)
    for position in _positions(job, planned, group, move):
        places = _places(job, planned, group, position)
        alone = _with_group(
            problem, schedule, (job, planned), group, replace(move, position=position), places
        )
        yield alone
        if group.stop < len(job.stages):
            yield PlannedJob(id=job.id, stages=alone.stages[: group.stop])
    yield _shifted(problem, schedule, (job, planned), move.start - planned.stages[group.start].start)


def _positions(job: Job, planned: PlannedJob, group: range, move: Move) -> list[str | None]:
    """The positions to try; only the one that was asked for, where one was."""
    own = planned.stages[group.start].position
    kind = job.stages[group.start].place
    if move.position is not None or kind is None:
        return [move.position or own]
    return [own, *(place for place in job.positions.get(kind, ()) if place != own)]


def _places(job: Job, planned: PlannedJob, group: range, position: str | None) -> dict[int, str | None]:
    """The position of every stage, once the stay that the group begins in is at `position`."""
    places: dict[int, str | None] = {index: stage.position for index, stage in enumerate(planned.stages)}
    for stay in job.stays():
        if group.start in stay:
            places |= dict.fromkeys(stay, position)
    return places


def _with_group(
    problem: BayProblem,
    schedule: Schedule,
    work: tuple[Job, PlannedJob],
    group: range,
    move: Move,
    places: Mapping[int, str | None],
) -> PlannedJob:
    job, planned = work
    stages, at = list(planned.stages), move.start
    for index in group:
        stage = replace(_at(stages[index], at), position=places[index])
        if move.heater_set is not None and job.stages[index].block:
            stage = replace(stage, heater_set=move.heater_set)
        stages[index] = _timed(problem, schedule, job, index, _swapped(stage, move))
        at = stages[index].end
    for index in set(range(len(stages))) - set(group):
        stages[index] = replace(stages[index], position=places[index])
    return PlannedJob(id=job.id, stages=tuple(stages))


def _swapped(stage: PlannedStage, move: Move) -> PlannedStage:
    """The stage with its new technician, where the move names one."""
    if move.technician is None or move.technician in stage.technicians:
        return stage
    if move.instead_of not in stage.technicians:
        return stage
    crew = tuple(move.technician if each == move.instead_of else each for each in stage.technicians)
    return replace(stage, technicians=crew)


def _shifted(
    problem: BayProblem, schedule: Schedule, work: tuple[Job, PlannedJob], minutes: int
) -> PlannedJob:
    """The whole job, so much later or sooner."""
    job, planned = work
    stages = [
        _timed(problem, schedule, job, index, _at(stage, stage.start + minutes))
        for index, stage in enumerate(planned.stages)
    ]
    return PlannedJob(id=job.id, stages=tuple(stages))


def _at(stage: PlannedStage, start: int) -> PlannedStage:
    return replace(stage, start=start, end=start + stage.end - stage.start)


def _timed(
    problem: BayProblem, schedule: Schedule, job: Job, index: int, stage: PlannedStage
) -> PlannedStage:
    """The stage with its end at its new start; with another crew where its own can't then."""
    asked = job.stages[index]
    minutes = round_up(asked.minutes, problem.grid_minutes)
    plain = replace(stage, end=stage.start + minutes)
    if not asked.crew:
        return plain
    crew = crew_at(problem, schedule, asked, plain, job.id)
    if crew is None:
        return plain
    people = [each for each in problem.technicians if each.id in crew]
    end = crew_end(stage.start, minutes, people, problem.grid_minutes, pausable=asked.pausable)
    return replace(stage, end=end or plain.end, technicians=crew)


def on_grid(problem: BayProblem, minute: int) -> int:
    """The grid step nearest to a minute; InvalidValueError outside the horizon."""
    grid = problem.grid_minutes
    nearest = (minute + grid // 2) // grid * grid
    if not 0 <= nearest < problem.horizon_end:
        raise InvalidValueError(_("that is outside the days of this plan"))
    return nearest
