"""What is otherwise in a bay than when its plan was published; each difference can be undone by itself."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet, Position, Shift, Technician
from planner.domain.sentences import Sentence, _
from planner.domain.work import Job
from planner.scheduling.dispatch.timeline import slots_between, stretches
from planner.solver.reasons.words import local_time

Undo = Callable[[BayProblem], BayProblem]


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One difference in plain words; `undo` gives the bay without it.

    `job` where it is about one job; it is told of itself in `own_words`.
    """

    code: str
    words: Sentence
    own_words: Sentence | None = None
    figures: Mapping[str, int | float | str | None]
    undo: Undo
    job: str | None = None


def differences(before: BayProblem, published: Schedule, now: BayProblem) -> tuple[Difference, ...]:
    """Everything that leaves less room than the published plan had; `before` has its times on this clock."""
    return (
        *_people(before, now),
        *_sets(before, now),
        *_positions(before, now),
        *_isolations(before, now),
        *_limits(before, now),
        *_work_in_hand(published, now),
        *_changed_jobs(before, now),
    )


def _people(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    there = {one.id: one for one in now.technicians}
    for one in before.technicians:
        here = there.get(one.id)
        away = _minutes(shift.span for shift in one.shifts) & ~(
            _minutes(shift.span for shift in here.shifts) if here else 0
        )
        resting = _at_work(one) & ~(_at_work(here) if here else 0)
        if lost := _spans(away, before, now) or _spans(resting, before, now):
            yield Difference(
                code="technician_away",
                words=_("{technician} is not there {when}", technician=one.id, when=_spoken(now, lost)),
                figures={"technician": one.id, "from_min": lost[0].start, "to_min": lost[-1].end},
                undo=partial(_with_technician, one),
            )


def _at_work(technician: Technician) -> int:
    """The minutes from the horizon's start on in which somebody is on shift and in no break, as bits."""
    minutes = 0
    for shift in technician.shifts:
        minutes |= _minutes((shift.span,)) & ~_minutes(shift.breaks)
    return minutes


def _minutes(spans: Iterable[Span]) -> int:
    minutes = 0
    for span in spans:
        minutes |= slots_between(max(span.start, 0), max(span.end, 0))
    return minutes


def _spans(minutes: int, before: BayProblem, now: BayProblem) -> list[Span]:
    """Those minutes as spans, as far as both plans reach."""
    both = slots_between(0, min(before.horizon_end, now.horizon_end))
    return [Span(start, end) for start, end in stretches(minutes & both)]


def _with_technician(was: Technician, problem: BayProblem) -> BayProblem:
    others = tuple(one for one in problem.technicians if one.id != was.id)
    if len(others) == len(problem.technicians):
        return replace(problem, technicians=(*others, was))
    here = tuple(was if one.id == was.id else one for one in problem.technicians)
    return replace(problem, technicians=here)


def _sets(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    in_hand = {lock.id for lock in now.locked}
    for one in before.heater_sets:
        found = _less(before, now, one, next((each for each in now.heater_sets if each.id == one.id), None))
        # Work in hand keeps to the set that it is on.
        could = {job.id for job in before.jobs if one.id in job.heater_sets} - in_hand
        barred = [job.id for job in now.jobs if job.id in could and one.id not in job.heater_sets]
        if found or barred:
            yield Difference(
                code="set_out",
                words=_("{heater_set} is out {when}", heater_set=one.id, when=found)
                if found
                else _("{heater_set} is no longer to be used for it", heater_set=one.id),
                figures={"heater_set": one.id},
                undo=partial(_with_set, one, frozenset(could)),
            )


def _with_set(was: HeaterSet, users: frozenset[str], problem: BayProblem) -> BayProblem:
    sets = (*(one for one in problem.heater_sets if one.id != was.id), was)
    jobs = (
        replace(job, heater_sets=(*job.heater_sets, was.id))
        if job.id in users and was.id not in job.heater_sets
        else job
        for job in problem.jobs
    )
    return replace(problem, heater_sets=sets, jobs=tuple(jobs))


def _positions(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    for one in before.positions:
        found = _less(before, now, one, next((each for each in now.positions if each.id == one.id), None))
        if found:
            yield Difference(
                code="position_closed",
                words=_("{position} is closed {when}", position=one.id, when=found),
                figures={"position": one.id},
                undo=partial(_with_position, one),
            )


def _with_position(was: Position, problem: BayProblem) -> BayProblem:
    return replace(problem, positions=(*(one for one in problem.positions if one.id != was.id), was))


def _less(
    before: BayProblem, now: BayProblem, was: HeaterSet | Position, here: HeaterSet | Position | None
) -> str:
    """When a set or a position is closed that was open, in words; empty where never."""
    if here is None:
        return _("for good")
    return _spoken(now, _spans(_minutes(here.closed) & ~_minutes(was.closed), before, now))


def _isolations(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    new = _spans(_minutes(now.power_off) & ~_minutes(before.power_off), before, now)
    if new:
        yield Difference(
            code="power_off",
            words=_("the supply is isolated {when}", when=_spoken(now, new)),
            figures={"from_min": new[0].start, "to_min": new[-1].end},
            undo=lambda problem: replace(problem, power_off=before.power_off),
        )


def _limits(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    for name, what in (
        ("power_limit_kw", _("kW of power")),
        ("channel_limit", _("controller channels")),
        ("cures_per_attendant", _("tyres for each attendant")),
    ):
        was, here = getattr(before.rules, name), getattr(now.rules, name)
        if here is not None and (was is None or here < was):
            rules = replace(now.rules, **{name: was})
            yield Difference(
                code="limit_lower",
                words=_("there are {limit:g} {what}, no longer {before:g}", limit=here, what=what, before=was)
                if was is not None
                else _("there are {limit:g} {what}, no longer any number", limit=here, what=what),
                figures={"limit": here, "before": was},
                undo=partial(_with_rules, rules),
            )


def _with_rules(rules: object, problem: BayProblem) -> BayProblem:
    return replace(problem, rules=rules)  # type: ignore[arg-type]


def _work_in_hand(published: Schedule, now: BayProblem) -> Iterator[Difference]:
    planned = {job.id: {stage.name: stage for stage in job.stages} for job in published.jobs}
    for lock in now.locked:
        was = planned.get(lock.id)
        if was is None:
            continue
        late = [
            (stage.end - was[stage.name].end, stage.name)
            for stage in lock.stages
            if stage.name in was and stage.end != was[stage.name].end
        ]
        if late:
            minutes, name = late[0]
            words, own = _overrun(lock.id, name, minutes)
            yield Difference(
                code="runs_over",
                words=words,
                own_words=own,
                figures={"job": lock.id, "stage": name, "minutes": minutes},
                undo=partial(_as_published, lock, was),
                job=lock.id,
            )


def _overrun(job: str, stage: str, minutes: int) -> tuple[Sentence, Sentence]:
    """How a stage in hand ends apart from its plan, told of the job and told by the job itself."""
    figures = {"stage": stage, "minutes": abs(minutes)}
    if minutes > 0:
        return (
            _("{stage} of {job} ends {minutes:duration} later than planned", job=job, **figures),
            _("{stage} ends {minutes:duration} later than planned", **figures),
        )
    return (
        _("{stage} of {job} ends {minutes:duration} sooner than planned", job=job, **figures),
        _("{stage} ends {minutes:duration} sooner than planned", **figures),
    )


def _as_published(lock: PlannedJob, was: Mapping[str, PlannedStage], problem: BayProblem) -> BayProblem:
    stages = tuple(was.get(stage.name, stage) for stage in lock.stages)
    locked = tuple(replace(one, stages=stages) if one.id == lock.id else one for one in problem.locked)
    return replace(problem, locked=locked)


def _changed_jobs(before: BayProblem, now: BayProblem) -> Iterator[Difference]:
    known = {job.id: {stage.name: stage.minutes for stage in job.stages} for job in before.jobs}
    locked = {(lock.id, stage.name) for lock in now.locked for stage in lock.stages}
    for job in now.jobs:
        was = {
            stage.name: minutes
            for stage in job.stages
            if (minutes := known.get(job.id, {}).get(stage.name, stage.minutes)) != stage.minutes
            and (job.id, stage.name) not in locked
        }
        if was:
            name, then = next(iter(was.items()))
            here = next(stage.minutes for stage in job.stages if stage.name == name)
            yield Difference(
                code="work_changed",
                words=_(
                    "{stage} of {job} takes {minutes:duration}, no longer {before_min:duration}",
                    stage=name,
                    job=job.id,
                    minutes=here,
                    before_min=then,
                ),
                own_words=_(
                    "{stage} takes {minutes:duration}, no longer {before_min:duration}",
                    stage=name,
                    minutes=here,
                    before_min=then,
                ),
                figures={"job": job.id, "stage": name, "minutes": here, "before_min": then},
                undo=partial(_with_lengths, job, was),
                job=job.id,
            )


def _with_lengths(job: Job, minutes: Mapping[str, int], problem: BayProblem) -> BayProblem:
    stages = tuple(replace(stage, minutes=minutes.get(stage.name, stage.minutes)) for stage in job.stages)
    jobs = tuple(replace(one, stages=stages) if one.id == job.id else one for one in problem.jobs)
    return replace(problem, jobs=jobs)


def _spoken(problem: BayProblem, spans: list[Span]) -> str:
    """When that is: the first stretch, and that there are more."""
    if not spans:
        return ""
    figures = {"start": local_time(problem, spans[0].start), "end": local_time(problem, spans[0].end)}
    if len(spans) == 1:
        return _("{start:moment} to {end:moment}", **figures)
    return _("{start:moment} to {end:moment} and at other times", **figures)


def on_clock_of(problem: BayProblem, now: BayProblem) -> BayProblem:
    """The resources and jobs of an older problem in minutes of this one's clock; nothing locked."""
    later = int((problem.origin - now.origin).total_seconds()) // 60
    shift = partial(_shifted, later)
    return replace(
        problem,
        origin=now.origin,
        horizon_end=max(1, problem.horizon_end + later),
        technicians=tuple(
            replace(one, shifts=tuple(_moved(each, later) for each in one.shifts))
            for one in problem.technicians
        ),
        positions=tuple(replace(one, closed=shift(one.closed)) for one in problem.positions),
        heater_sets=tuple(replace(one, closed=shift(one.closed)) for one in problem.heater_sets),
        power_off=shift(problem.power_off),
        jobs=tuple(
            replace(job, released_at=job.released_at + later, needed_by=job.needed_by + later)
            for job in problem.jobs
        ),
        locked=(),
    )


def _shifted(minutes: int, spans: Iterable[Span]) -> tuple[Span, ...]:
    return tuple(Span(span.start + minutes, span.end + minutes) for span in spans)


def _moved(shift: Shift, minutes: int) -> Shift:
    (span,) = _shifted(minutes, (shift.span,))
    return replace(shift, span=span, breaks=_shifted(minutes, shift.breaks))
