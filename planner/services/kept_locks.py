"""Locks by hand outlive a new build: each is carried to the new horizon, where it can still hold."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.utils import timezone

from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence, _, joined
from planner.domain.work import Job
from planner.models import Site, User
from planner.selectors.day_problem import DayProblem
from planner.selectors.plans import PlanContent, plan_content_get, plan_in_work_get
from planner.services.plan_edit.placing import place


@dataclass(frozen=True, slots=True, kw_only=True)
class _Carried:
    """A lock by hand in the new horizon's minutes; without one, why it is given up."""

    job: str
    lock: PlannedJob | None
    fault: Sentence | None = None


def locks_by_hand_keep(*, user: User, site: Site, day: DayProblem, now: datetime | None = None) -> DayProblem:
    """The day's problem with the locks that a supervisor set in the plan in work.

    That is the newest draft, or the published plan where it is newer. What has begun is fixed by what is
    on record, and only the rest of its lock is carried on. A lock that the bay as it is now cannot hold, or
    whose time went by without a begin, is given up with a warning that says why.
    """
    row = plan_in_work_get(user=user, site=site)
    if row is None:
        return day
    content = plan_content_get(plan=row)
    moment = int(((now or timezone.now()) - day.problem.origin) / timedelta(minutes=1))
    problem, warnings = day.problem, list(day.warnings)
    for carried in _carried(content, day.problem, moment):
        held, fault = _with_lock(problem, carried)
        problem = held or problem
        if fault:
            warnings.append(
                _(
                    "{job} is no longer locked from {when:day_minute}: {fault}",
                    job=carried.job,
                    when=_when(content, carried.job, site),
                    fault=fault,
                )
            )
    return replace(day, problem=problem, warnings=tuple(warnings))


def _carried(content: PlanContent, problem: BayProblem, moment: int) -> Iterator[_Carried]:
    """Every whole lock of the old plan that means something for a job of the new problem."""
    lengths = {job.id: len(job.stages) for job in content.problem.jobs}
    jobs = {job.id: job for job in problem.jobs}
    in_hand = {lock.id: lock.stages for lock in problem.locked}
    later = int((content.problem.origin - problem.origin).total_seconds()) // 60
    for lock in content.problem.locked:
        job = jobs.get(lock.id)
        # A lock of some stages only is work in hand, which the site's own records fix.
        if job is None or len(lock.stages) != lengths[lock.id]:
            continue
        begun = in_hand.get(lock.id, ())
        left = _left(job, begun, lock, later)
        if not left:
            continue
        if left[0].start < max(moment, 0):
            yield _Carried(job=lock.id, lock=None, fault=_("its time went by before it was begun"))
            continue
        yield _Carried(job=lock.id, lock=PlannedJob(id=lock.id, stages=(*begun, *left)))


def _left(job: Job, begun: Iterable[PlannedStage], lock: PlannedJob, later: int) -> tuple[PlannedStage, ...]:
    """The locked stages that are still to be begun, in minutes of the new horizon."""
    asked = {stage.name for stage in job.stages} - {stage.name for stage in begun}
    return tuple(
        replace(stage, start=stage.start + later, end=stage.end + later)
        for stage in lock.stages
        if stage.name in asked
    )


def _with_lock(problem: BayProblem, carried: _Carried) -> tuple[BayProblem | None, Sentence | None]:
    """The problem with one more lock, or why all that is locked would not hold with it."""
    if carried.lock is None:
        return None, carried.fault
    others = tuple(lock for lock in problem.locked if lock.id != carried.job)
    # Checked as if free: a lock excuses work in hand from closures and rosters, but this has not begun.
    placed = place(problem, (*others, carried.lock))
    if placed.schedule is None:
        return None, joined(placed.breaches[:2])
    return replace(problem, locked=(*others, carried.lock)), None


def _when(content: PlanContent, job: str, site: Site) -> datetime:
    lock = next(lock for lock in content.problem.locked if lock.id == job)
    at = content.problem.origin + timedelta(minutes=lock.stages[0].start)
    return at.astimezone(ZoneInfo(site.time_zone))
