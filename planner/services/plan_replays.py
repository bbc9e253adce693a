"""Replaying a stored plan for its odds, beside the page, and keeping what came out."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from celery import current_app
from django.core.cache import cache
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from planner.domain.permissions import Action
from planner.domain.problem import BayProblem
from planner.domain.states import PlanState
from planner.models import Plan, PlanReplay, ReplayedJob, User
from planner.scheduling.replay import JobOdds, Spread, odds_for
from planner.selectors.access import require_on_site
from planner.selectors.plans import plan_content_get
from planner.selectors.stage_spreads import stage_spreads_get

REPLAY_TASK = "planner.tasks.replay_plan"
REPLAYS = 2000
_SEED = 0
RESUMED_WITHIN = timedelta(hours=1)
_LOST_AFTER, _AGAIN_EVERY_SECONDS = timedelta(minutes=3), 600


def plan_replay_ask(*, user: User, plan: Plan) -> None:
    """Have a worker replay the plan once the change that asks for it is committed; nothing where it was."""
    require_on_site(user=user, site=plan.site, action=Action.SITE_READ)
    if PlanReplay.objects.filter(plan=plan).exists():
        return
    transaction.on_commit(lambda: current_app.send_task(REPLAY_TASK, args=[plan.pk]), robust=True)


def plan_replay_run(*, plan_id: int, replays: int = REPLAYS) -> PlanReplay | None:
    """Replay a plan and store its odds; safe to run twice. None where it was put away, or has its odds."""
    plan = Plan.objects.filter(pk=plan_id).exclude(state=PlanState.DROPPED).select_related("site").first()
    if plan is None or PlanReplay.objects.filter(plan=plan).exists():
        return None
    content = plan_content_get(plan=plan)
    own = stage_spreads_get(site=plan.site)
    spreads = _by_stage(content.problem, own)
    odds = odds_for(content.problem, content.plan.schedule, spreads=spreads, replays=replays, seed=_SEED)
    measured = sorted({stage for _, stage in spreads})
    return _stored(plan, content.problem.origin, odds, measured, replays)


def plan_replays_resume() -> int:
    """Queue again the replays that were lost with their worker or the queue, for an hour; how many."""
    now = timezone.now()
    lately = (now - RESUMED_WITHIN, now - _LOST_AFTER)
    built = Q(state=PlanState.DRAFT, build__isnull=False, made_at__range=lately)
    published = Q(state=PlanState.PUBLISHED, published_at__range=lately)
    lost = Plan.objects.filter(built | published, replay=None).values_list("pk", flat=True)
    # One that takes long is not begun anew each minute; a lost cache only makes it more often.
    again = [pk for pk in lost if cache.add(f"replay-again:{pk}", True, _AGAIN_EVERY_SECONDS)]
    for pk in again:
        current_app.send_task(REPLAY_TASK, args=[pk])
    return len(again)


def _by_stage(problem: BayProblem, own: Mapping[str, Spread]) -> dict[tuple[str, str], Spread]:
    stages = ((job.id, stage.name) for job in problem.jobs for stage in job.stages)
    return {(job, name): own[name] for job, name in stages if name in own}


def _stored(
    plan: Plan, origin: datetime, odds: tuple[JobOdds, ...], measured: list[str], replays: int
) -> PlanReplay | None:
    """Keep the odds; None where another run was faster."""
    start = origin.astimezone(UTC)

    def at(minute: int | None) -> datetime | None:
        return None if minute is None else start + timedelta(minutes=minute)

    with transaction.atomic():
        row, is_new = PlanReplay.objects.get_or_create(
            plan=plan,
            defaults={
                "site": plan.site, "replays": replays, "measured": measured, "replayed_at": timezone.now(),
            },
        )  # fmt: skip
        if not is_new:
            return None
        ReplayedJob.objects.bulk_create(
            ReplayedJob(
                site=plan.site, replay=row, job=each.job, in_time=each.in_time, unattended=each.unattended,
                held=each.held, held_at=each.held_at, p50_at=at(each.p50), p90_at=at(each.p90),
            )
            for each in odds
        )  # fmt: skip
    return row
