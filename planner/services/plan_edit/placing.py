"""A schedule with some work put where it was asked for; the rest stays, the watch is shared anew."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from planner.domain.breach import Breach
from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.scheduling.dispatch import LockedWorkError, dispatch
from planner.scheduling.verify import schedule_verify

_WATCH_RULES = frozenset({"watch", "handover", "attendant", "attendant_load", "attendant_work"})

_OWN_RULES = frozenset(
    {"stages", "length", "waits", "block", "horizon", "release", "crew", "shift", "breaks"}
)
"""Rules that look at one job alone: what breaks one of them breaks it beside any others too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A schedule that holds, or what it would break; `named` where the checker said so, with names."""

    schedule: Schedule | None
    breaches: tuple[str, ...] = ()
    named: bool = True


def place(problem: BayProblem, keep: Iterable[PlannedJob], free: Iterable[str] = ()) -> Placed:
    """Keep these jobs where they stand, plan `free` around them, share the watch out, and check it all.

    A kept job of which only the first stages are given is finished by the planner.
    """
    kept = tuple(keep)
    wanted = {job.id for job in kept} | set(free)
    locked = {job.id: job for job in kept}
    bay = replace(
        problem,
        jobs=tuple(_without_unknown(job, wanted) for job in problem.jobs if job.id in wanted),
        locked=tuple(locked.values()),
    )
    try:
        found = dispatch(bay, restarts=0)
    except LockedWorkError as error:
        return _refused(problem, kept, error)
    breaches = schedule_verify(problem, found)
    return Placed(schedule=None if breaches else found, breaches=words_of(breaches))


def breaches_of_work(problem: BayProblem, jobs: Iterable[PlannedJob]) -> tuple[Breach, ...]:
    """What these jobs break before anybody attends them; quick, and never the last word."""
    breaches = schedule_verify(problem, Schedule(jobs=tuple(jobs), watch=()))
    return tuple(breach for breach in breaches if breach.rule not in _WATCH_RULES)


def breaches_alone(problem: BayProblem, job: Job, planned: PlannedJob) -> tuple[Breach, ...]:
    """What the job would break with the bay to itself: at night most times fall here, and soon."""
    bay = replace(problem, jobs=(job,), locked=())
    found = schedule_verify(bay, Schedule(jobs=(planned,), watch=()))
    return tuple(breach for breach in found if breach.rule in _OWN_RULES)


def words_of(breaches: Iterable[Breach]) -> tuple[str, ...]:
    """The breaches in plain words, each once."""
    return tuple(dict.fromkeys(breach.message for breach in breaches))


def _refused(problem: BayProblem, kept: tuple[PlannedJob, ...], error: LockedWorkError) -> Placed:
    """The checker's words where it has any: they name people and places, the planner's do not."""
    found = words_of(breaches_of_work(problem, _whole(problem, kept)))
    return Placed(schedule=None, breaches=found or error.breaches, named=bool(found))


def _whole(problem: BayProblem, jobs: Iterable[PlannedJob]) -> list[PlannedJob]:
    lengths: Mapping[str, int] = {job.id: len(job.stages) for job in problem.jobs}
    return [job for job in jobs if len(job.stages) == lengths[job.id]]


def _without_unknown(job: Job, wanted: set[str]) -> Job:
    """The job without predecessors that are left out: those never end, and can't be waited for."""
    return replace(job, after=tuple(before for before in job.after if before in wanted))
