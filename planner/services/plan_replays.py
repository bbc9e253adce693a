"""Asking workers to replay a stored plan for its odds, and asking again for what was lost."""

from datetime import timedelta

from celery import current_app
from django.core.cache import cache
from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from planner.domain.permissions import Action
from planner.domain.states import PlanState
from planner.models import Plan, PlanReplay, PlanReplayPart, User
from planner.selectors.access import require_on_site

REPLAY_TASK = "planner.tasks.replay_plan"
PARTS = 4
"""The replays of a plan are shared out among so many tasks, which as many workers can do side by side."""
RESUMED_WITHIN = timedelta(hours=1)
_LOST_AFTER, _AGAIN_EVERY_SECONDS = timedelta(minutes=3), 600


def plan_replay_ask(*, user: User, plan: Plan) -> None:
    """Have workers replay the plan once the change that asks for it is committed; nothing where it was."""
    require_on_site(user=user, site=plan.site, action=Action.SITE_READ)
    if PlanReplay.objects.filter(plan=plan).exists():
        return
    transaction.on_commit(lambda: _send(plan.pk), robust=True)


def plan_replays_resume() -> int:
    """Queue again the replays that were lost with their worker or the queue, for an hour; how many plans."""
    now = timezone.now()
    lately = (now - RESUMED_WITHIN, now - _LOST_AFTER)
    built = Q(state=PlanState.DRAFT, build__isnull=False, made_at__range=lately)
    published = Q(state=PlanState.PUBLISHED, published_at__range=lately)
    lost = Plan.objects.filter(built | published, replay=None).values_list("pk", flat=True)
    # One that takes long is not begun anew each minute; a lost cache only makes it more often.
    again = [pk for pk in lost if cache.add(f"replay-again:{pk}", True, _AGAIN_EVERY_SECONDS)]
    for pk in again:
        _send(pk)
    PlanReplayPart.objects.filter(replayed_at__lt=now - RESUMED_WITHIN).delete()
    return len(again)


def _send(plan_id: int) -> None:
    """Queue the parts that nobody has done."""
    done = set(PlanReplayPart.objects.filter(plan=plan_id).values_list("part", flat=True))
    for part in range(PARTS):
        if part not in done:
            current_app.send_task(REPLAY_TASK, args=[plan_id, part, PARTS])
