"""Removing what has served its time. What was signed, booked or told to the audit chain always stays."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.utils import timezone

from planner.domain.states import PlanBuildState, PlanState
from planner.domain.webhooks import DeliveryState
from planner.models import (
    ApiToken,
    CureLogUpload,
    FileTask,
    KeptAnswer,
    Plan,
    PlanBuild,
    TyreAlarm,
    WebhookDelivery,
)

DAY = timedelta(days=1)
_ENDED = (PlanBuildState.DONE, PlanBuildState.CANCELLED, PlanBuildState.FAILED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Retention:
    """For how long each is kept [days]; `settings.RETENTION` holds them by name."""

    drafts: int = 90
    builds: int = 365
    webhook_deliveries: int = 90
    alarms: int = 365
    tokens: int = 365


def retention_apply(*, keep: Retention, now: datetime | None = None) -> Mapping[str, int]:
    """Remove what is older than it is kept for, and what is over by itself; how many of each."""
    at = now or timezone.now()
    return {name: _remove(rows) for name, rows in _old(keep, at).items()}


def _old(keep: Retention, at: datetime) -> dict[str, QuerySet[Any]]:
    """What goes, in an order in which nothing that stays points at what went."""
    drafts = Plan.objects.filter(state__in=(PlanState.DRAFT, PlanState.DROPPED))
    drafts = drafts.filter(stage_runs__isnull=True, made_at__lt=at - keep.drafts * DAY)
    builds = PlanBuild.objects.filter(state__in=_ENDED, requested_at__lt=at - keep.builds * DAY)
    deliveries = WebhookDelivery.objects.exclude(state=DeliveryState.WAITING)
    return {
        "sessions": Session.objects.filter(expire_date__lt=at),
        "answers to repeated requests": KeptAnswer.objects.filter(made_at__lt=at - DAY),
        "files not kept": CureLogUpload.objects.filter(uploaded_at__lt=at - DAY),
        "imports and exports": FileTask.objects.filter(state__in=_ENDED, asked_at__lt=at - 7 * DAY),
        "drafts": drafts.exclude(pk__in=Plan.objects.filter(based_on__isnull=False).values("based_on")),
        "builds": builds.filter(plan__isnull=True),
        "webhook deliveries": deliveries.filter(ended_at__lt=at - keep.webhook_deliveries * DAY),
        "alarms": TyreAlarm.objects.filter(ended_at__lt=at - keep.alarms * DAY),
        "tokens": ApiToken.objects.filter(expires_at__lt=at - keep.tokens * DAY),
    }


def _remove(rows: QuerySet[Any]) -> int:
    """Each by its key: what hangs on a row goes with it and is not counted."""
    keys = list(rows.values_list("pk", flat=True))
    rows.model._default_manager.filter(pk__in=keys).delete()
    return len(keys)
