"""Stages that run longer than the published plan gave them."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from planner.domain.permissions import Action
from planner.domain.states import StageRunState
from planner.models import Plan, Site, StageRun, User
from planner.selectors.access import require_on_site
from planner.selectors.plans import plan_content_get


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrun:
    """A running stage of a planned job with the time by which the plan has it over."""

    run: StageRun
    job: str
    due_at: datetime
    minutes_over: int


def overrun_list(*, user: User, site: Site, plan: Plan | None, now: datetime) -> list[Overrun]:
    """What runs past its planned end, the longest first; nothing without a published plan."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    if plan is None:
        return []
    running = StageRun.objects.filter(site=site, state=StageRunState.RUNNING).select_related("work_order")
    runs = list(running.prefetch_related("work_order__damages"))
    due = _planned_ends(plan) if runs else {}
    found = [
        Overrun(run=run, job=job, due_at=ends, minutes_over=int((now - ends).total_seconds()) // 60)
        for run in runs
        if (ends := due.get((job := _job(run), run.name))) is not None and ends < now
    ]
    return sorted((each for each in found if each.minutes_over), key=lambda each: -each.minutes_over)


def _job(run: StageRun) -> str:
    """The job of a run's injury: the second injury of an order has one of its own."""
    place = [damage.pk for damage in run.work_order.damages.all()].index(run.damage_id)
    return run.work_order.code if place == 0 else f"{run.work_order.code}.{place + 1}"


def _planned_ends(plan: Plan) -> dict[tuple[str, str], datetime]:
    """The planned end of each stage, by job and name."""
    content = plan_content_get(plan=plan)
    start = content.problem.origin.astimezone(UTC)
    return {
        (job.id, stage.name): start + timedelta(minutes=stage.end)
        for job in content.plan.schedule.jobs
        for stage in job.stages
    }
