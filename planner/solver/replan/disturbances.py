"""What goes wrong in a bay, as pure changes to its problem [min after the horizon's start]."""

from dataclasses import replace

from planner.domain.bay_time import Span
from planner.domain.errors import InvalidValueError
from planner.domain.plan import PlannedJob
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.domain.sentences import _
from planner.domain.work import Job


def set_failed(problem: BayProblem, heater_set: str, span: Span) -> BayProblem:
    """A heater set is out; locked work on it stays as it is."""
    _known(heater_set, {one.id for one in problem.heater_sets})
    sets = (
        replace(one, closed=(*one.closed, span)) if one.id == heater_set else one
        for one in problem.heater_sets
    )
    return replace(problem, heater_sets=tuple(sets))


def technician_away(problem: BayProblem, technician: str, span: Span) -> BayProblem:
    """A technician is not there; what locked work they had must be given to others first."""
    _known(technician, {one.id for one in problem.technicians})
    those = (
        replace(one, shifts=tuple(part for shift in one.shifts for part in _without(shift, span)))
        if one.id == technician
        else one
        for one in problem.technicians
    )
    return replace(problem, technicians=tuple[Technician, ...](those))


def _without(shift: Shift, away: Span) -> tuple[Shift, ...]:
    if not shift.span.meets(away):
        return (shift,)
    ends = (
        (shift.span.start, min(away.start, shift.span.end)),
        (max(away.end, shift.span.start), shift.span.end),
    )
    return tuple(_part(shift, Span(start, end)) for start, end in ends if start < end)


def _part(shift: Shift, span: Span) -> Shift:
    breaks = (
        Span(max(pause.start, span.start), min(pause.end, span.end))
        for pause in shift.breaks
        if pause.meets(span)
    )
    return Shift(span=span, breaks=tuple(breaks))


def stage_runs_over(problem: BayProblem, job: str, stage: str, minutes: int) -> BayProblem:
    """A locked stage ends later than it was locked; what follows it in its block moves with it."""
    _known(job, {one.id for one in problem.locked})
    block = {one.name for one in next(one for one in problem.jobs if one.id == job).stages if one.block}
    locked = (_over(one, stage, minutes, block) if one.id == job else one for one in problem.locked)
    return replace(problem, locked=tuple(locked))


def _over(job: PlannedJob, stage: str, minutes: int, block: set[str]) -> PlannedJob:
    _known(stage, {one.name for one in job.stages})
    place = next(index for index, one in enumerate(job.stages) if one.name == stage)
    stages = list(job.stages)
    stages[place] = replace(stages[place], end=stages[place].end + minutes)
    for index in range(place + 1, len(stages)):
        if stages[index].name in block and stage in block:
            stages[index] = replace(
                stages[index], start=stages[index].start + minutes, end=stages[index].end + minutes
            )
    return replace(job, stages=tuple(stages))


def job_arrived(problem: BayProblem, job: Job) -> BayProblem:
    """Another tyre comes in."""
    if any(one.id == job.id for one in problem.jobs):
        raise InvalidValueError(_("there is a job {id} already", id=job.id))
    return replace(problem, jobs=(*problem.jobs, job))


def _known(id_: str, known: set[str]) -> None:
    if id_ not in known:
        raise InvalidValueError(_("there is no {id_} here", id_=id_))
