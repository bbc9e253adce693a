"""The published plan held against the bay as it is on file now."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

from planner.domain.breach import Breach
from planner.domain.errors import InvalidValueError
from planner.domain.problem import BayProblem
from planner.domain.sentences import _, sentence_of
from planner.domain.work import Job
from planner.models import Plan, Site, User
from planner.scheduling.verify import schedule_verify
from planner.selectors.day_problem import DayProblem, day_problem_get
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import PlanContent, plan_content_get, plan_published_get


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanInBay:
    """A published plan that still goes on, and every rule that it breaks in the bay as it is now."""

    plan: Plan
    content: PlanContent
    breaches: tuple[Breach, ...]


def plan_in_bay_get(*, user: User, site: Site, now: datetime) -> PlanInBay | None:
    """The published plan laid over the site's people, places, sets, rules and routes of now.

    Stages that are over by `now` count no more. None where no published plan goes on.
    """
    plan = plan_published_get(user=user, site=site)
    if plan is None or plan.horizon_end <= now:
        return None
    content = plan_content_get(plan=plan)
    try:
        day = day_problem_get(
            user=user, site=site, start=content.problem.origin, end=plan.horizon_end, now=now
        )
    except InvalidValueError as fault:
        # The bay as it is now gives no problem at all, such as with two shifts of somebody at once.
        return PlanInBay(
            plan=plan, content=content, breaches=(Breach(rule="bay", message=sentence_of(fault)),)
        )
    minute = (now - content.problem.origin).total_seconds() / 60
    ahead = {job.id for job in content.plan.schedule.jobs if job.end > minute}
    found = (
        *_gone(content, day, ahead),
        *schedule_verify(_problem(content.problem, day), content.plan.schedule),
    )
    return PlanInBay(
        plan=plan,
        content=content,
        breaches=tuple(each for each in found if each.job is None or each.job in ahead),
    )


def _problem(published: BayProblem, day: DayProblem) -> BayProblem:
    """The published work in the bay of now: what a job may use, and its minutes, as they are now."""
    now = day.problem
    fresh = {job.id: job for job in now.jobs}
    return replace(
        published,
        grid_minutes=now.grid_minutes,
        rules=now.rules,
        technicians=now.technicians,
        positions=now.positions,
        heater_sets=now.heater_sets,
        power_off=now.power_off,
        jobs=tuple(_job(job, fresh.get(job.id)) for job in published.jobs),
    )


def _job(published: Job, fresh: Job | None) -> Job:
    """The published job with what is eligible now; work in hand keeps the stages that it was planned with."""
    if fresh is None:
        return published
    same = [stage.name for stage in fresh.stages] == [stage.name for stage in published.stages]
    return replace(
        published,
        stages=fresh.stages if same else published.stages,
        heater_sets=fresh.heater_sets or published.heater_sets,
        positions={**published.positions, **fresh.positions},
    )


def _gone(content: PlanContent, day: DayProblem, ahead: set[str]) -> Iterator[Breach]:
    """Planned work that could no longer enter a plan, and why."""
    entered = {job.id for job in day.problem.jobs}
    reasons = {each.work_order: each.reason for each in day.not_entered}
    for job in content.plan.schedule.jobs:
        reason = reasons.get(order_code(job.id))
        if job.id in ahead and job.id not in entered and reason:
            yield Breach(rule="eligible", message=_("{id}: {reason}", id=job.id, reason=reason), job=job.id)
