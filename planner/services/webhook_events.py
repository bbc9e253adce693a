"""What happened, written down for every receiver that asked for it, in the change's own transaction."""

import json
import uuid
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from celery import current_app
from django.db import transaction
from django.utils import timezone

from planner.domain.webhooks import WebhookEvent
from planner.models import Plan, Site, Webhook, WebhookDelivery
from planner.selectors.plan_promises import promise_map_get
from planner.selectors.promise_changes import promises_moved
from planner.selectors.webhooks import webhooks_asking

DELIVER_TASK = "planner.tasks.deliver_webhook"


def plan_published_tell(*, plan: Plan, before: Plan | None) -> None:
    """Tell of a published plan, and of each promise that it changed."""
    event_add(
        site=plan.site,
        event=WebhookEvent.PLAN_PUBLISHED,
        data=lambda: {"plan": plan.pk, "number": plan.number},
    )
    event_add(site=plan.site, event=WebhookEvent.PROMISES_CHANGED, data=lambda: _changed(plan, before))


def event_add(*, site: Site, event: WebhookEvent, data: Callable[[], Mapping[str, Any] | None]) -> None:
    """Write the event down for each receiver; `data` is asked for only where there is one, None: nothing.

    It holds ids, times and numbers: never who did it, nor anything that somebody wrote.
    """
    webhooks = webhooks_asking(site=site, event=event)
    told = data() if webhooks else None
    for webhook in webhooks if told is not None else ():
        delivery_add(webhook=webhook, event=event, data=told or {})


def delivery_add(*, webhook: Webhook, event: WebhookEvent, data: Mapping[str, Any]) -> WebhookDelivery:
    """One event for one receiver, queued once the transaction is committed."""
    now = timezone.now()
    body = {"type": event, "timestamp": now.isoformat(), "site": webhook.site.code, "data": data}
    row = WebhookDelivery.objects.create(
        site=webhook.site,
        webhook=webhook,
        event_id=f"msg_{uuid.uuid4().hex}",
        event=event,
        body=json.dumps(body, separators=(",", ":")),
        made_at=now,
        next_at=now,
    )
    delivery_queue(row)
    return row


def delivery_queue(row: WebhookDelivery, seconds: int = 0) -> None:
    """Have a worker send it after so many seconds, once what was written is committed."""
    transaction.on_commit(
        lambda: current_app.send_task(DELIVER_TASK, args=[row.pk], countdown=seconds), robust=True
    )


def _changed(plan: Plan, before: Plan | None) -> dict[str, Any] | None:
    moved = promises_moved(promise_map_get(plan=before), promise_map_get(plan=plan))
    changes = [
        {"work_order": code, "ready_before": _instant(was), "ready_now": _instant(now)}
        for code, (was, now) in moved.items()
    ]
    return {"plan": plan.pk, "number": plan.number, "changes": changes} if changes else None


def _instant(at: datetime | None) -> str | None:
    return at.isoformat() if at else None
