"""Bays with one rule relaxed: what a planner then does shows whether the rule was in its way."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.domain.work import Job, Stage, StageKind

Relax = Callable[[BayProblem], BayProblem]
DAY = 24 * 60
TWIN = "'"
"""What is put behind the name of a second one of a technician, a set or a position."""


def _rules(**changes: Any) -> Relax:
    return lambda problem: replace(problem, rules=replace(problem.rules, **changes))


def _jobs(**changes: Any) -> Relax:
    return lambda problem: replace(problem, jobs=tuple(replace(job, **changes) for job in problem.jobs))


def _stages(change: Callable[[Stage], Stage]) -> Relax:
    def relax(problem: BayProblem) -> BayProblem:
        jobs = (replace(job, stages=tuple(map(change, job.stages))) for job in problem.jobs)
        return replace(problem, jobs=tuple(jobs), locked=())

    return relax


def _one_in_the_crew(stage: Stage) -> Stage:
    return replace(stage, crew=1) if stage.kind is StageKind.HANDS_ON else stage


def _first_stage_alone(problem: BayProblem) -> BayProblem:
    return replace(
        problem, locked=(), jobs=tuple(replace(job, stages=job.stages[:1]) for job in problem.jobs)
    )


def _shifts(change: Callable[[Shift], Shift]) -> Relax:
    def relax(problem: BayProblem) -> BayProblem:
        crew = (replace(one, shifts=tuple(map(change, one.shifts))) for one in problem.technicians)
        return replace(problem, technicians=tuple(crew))

    return relax


def _longer(shift: Shift) -> Shift:
    day = shift.span.start // DAY * DAY
    return replace(shift, span=Span(min(day, shift.span.start), max(day + DAY, shift.span.end)))


def _all_skilled(problem: BayProblem) -> BayProblem:
    skills = frozenset({"prep", problem.rules.watch_skill})
    return replace(problem, technicians=tuple(replace(one, skills=skills) for one in problem.technicians))


def _open(problem: BayProblem) -> BayProblem:
    return replace(
        problem,
        positions=tuple(replace(one, closed=()) for one in problem.positions),
        heater_sets=tuple(replace(one, closed=()) for one in problem.heater_sets),
    )


def _twins(things: Iterable[Any]) -> tuple[Any, ...]:
    return tuple(twin for one in things for twin in (one, replace(one, id=one.id + TWIN)))


def _more_sets(problem: BayProblem) -> BayProblem:
    jobs = tuple(replace(job, heater_sets=_names(job.heater_sets)) for job in problem.jobs)
    return replace(problem, jobs=jobs, heater_sets=_twins(problem.heater_sets))


def _more_positions(problem: BayProblem) -> BayProblem:
    return replace(problem, jobs=tuple(map(_more_places, problem.jobs)), positions=_twins(problem.positions))


def _more_places(job: Job) -> Job:
    return replace(job, positions={kind: _names(names) for kind, names in job.positions.items()})


def _names(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(twin for name in names for twin in (name, name + TWIN))


def _more_technicians(problem: BayProblem) -> BayProblem:
    crew: tuple[Technician, ...] = _twins(problem.technicians)
    return replace(problem, technicians=crew)


RELAXED: Mapping[str, Relax] = MappingProxyType(
    {
        "stages": _first_stage_alone,
        "grid": lambda problem: replace(problem, grid_minutes=1),
        "length": _stages(lambda stage: replace(stage, minutes=(stage.minutes + 1) // 2)),
        "waits": _stages(lambda stage: replace(stage, min_wait_after=0, max_wait_after=None)),
        "block": _stages(lambda stage: replace(stage, block=False)),
        "horizon": lambda problem: replace(problem, horizon_end=problem.horizon_end + DAY),
        "release": _jobs(released_at=0),
        "after": _jobs(after=()),
        "crew": _stages(_one_in_the_crew),
        "shift": _shifts(_longer),
        "breaks": _shifts(lambda shift: replace(shift, breaks=())),
        "one_stage": _more_technicians,
        "heater_set": _more_sets,
        "position": _more_positions,
        "closures": _open,
        "watch": _rules(watch_cool_down=False),
        "attendant": _all_skilled,
        "attendant_load": _rules(cures_per_attendant=9),
        "attendant_work": _rules(attendant_may_work=True),
        "handover": _rules(handover_allowed=True),
        "power": _rules(power_limit_kw=None),
        "channels": _rules(channel_limit=None),
        "power_off": lambda problem: replace(problem, power_off=()),
        "locked": lambda problem: replace(problem, locked=()),
    }
)
"""For each rule a bay in which it asks for less."""


def without_twins(schedule: Schedule) -> Schedule:
    """The same schedule with the one for whom a twin stood in."""
    return Schedule(
        jobs=tuple(
            PlannedJob(id=job.id, stages=tuple(map(_without_twins, job.stages))) for job in schedule.jobs
        ),
        watch=tuple(
            Watch(technician=watch.technician.rstrip(TWIN), span=watch.span, jobs=watch.jobs)
            for watch in schedule.watch
        ),
    )


def _without_twins(stage: PlannedStage) -> PlannedStage:
    return replace(
        stage,
        technicians=tuple(name.rstrip(TWIN) for name in stage.technicians),
        position=stage.position and stage.position.rstrip(TWIN),
        heater_set=stage.heater_set and stage.heater_set.rstrip(TWIN),
    )
