"""Stages that run longer than the published plan gave them."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from planner.domain.permissions import Action
from planner.domain.states import StageRunState
from planner.models import Plan, Site, StageRun, User
from planner.selectors.access import require_on_site
from planner.selectors.plan_promises import order_code
from planner.selectors.plans import plan_content_get


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrun:
    """A running stage with the time by which the plan has it over."""

    run: StageRun
    due_at: datetime
    minutes_over: int


def overrun_list(*, user: User, site: Site, plan: Plan | None, now: datetime) -> list[Overrun]:
    """What runs past its planned end, the longest first; nothing without a published plan."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    running = list(
        StageRun.objects.filter(site=site, state=StageRunState.RUNNING).select_related("work_order")
    )
    if plan is None or not running:
        return []
    due = _planned_ends(plan)
    found = [
        Overrun(run=run, due_at=ends, minutes_over=int((now - ends).total_seconds()) // 60)
        for run in running
        if (ends := due.get((run.work_order.code, run.name))) is not None and ends < now
    ]
    return sorted((each for each in found if each.minutes_over), key=lambda each: -each.minutes_over)


def _planned_ends(plan: Plan) -> dict[tuple[str, str], datetime]:
    """The planned end of each stage by order; of an order with several injuries, the last of that name."""
    content = plan_content_get(plan=plan)
    start = content.problem.origin.astimezone(UTC)
    jobs = sorted(content.plan.schedule.jobs, key=lambda job: job.end)
    return {
        (order_code(job.id), stage.name): start + timedelta(minutes=stage.end)
        for job in jobs
        for stage in job.stages
    }
