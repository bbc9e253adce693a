"""Sending what was written down: claimed, sent outside any transaction, tried again ever later."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from planner.domain.sentences import _
from planner.domain.webhooks import DeliveryState, wait_after
from planner.models import WebhookDelivery
from planner.selectors.webhooks import webhook_is_served
from planner.services.webhook_events import delivery_queue
from planner.services.webhook_sending import SendingError, send
from planner.services.webhook_signing import signed_headers

CLAIMED_FOR = timedelta(minutes=2)
"""A worker that died with a delivery in its hands keeps it from others for so long."""

LONGEST_COUNTDOWN_S = 600
"""What waits longer is left to the clock (`webhook_sweep`): a broker may forget, or send it twice."""


def delivery_run(*, delivery_id: int) -> None:
    """Send one delivery that is due; a second worker, or one too early, does nothing."""
    row = _claimed(delivery_id)
    if row is None:
        return
    webhook = row.webhook
    if not webhook_is_served(webhook=webhook):
        _end(row, DeliveryState.GIVEN_UP, fault=_("the webhook's maker may no longer keep it"))
        return
    headers = signed_headers(
        webhook.nonce, event_id=row.event_id, timestamp=int(timezone.now().timestamp()), body=row.body
    )
    try:
        answer = send(webhook.url, body=row.body, headers=headers)
    except SendingError as fault:
        _later(row, fault)
    else:
        _end(row, DeliveryState.DELIVERED, answer=answer)


def webhook_sweep() -> int:
    """Queue what is due and was lost with its broker or its worker; how many."""
    due = WebhookDelivery.objects.filter(state=DeliveryState.WAITING, next_at__lte=timezone.now())
    rows = list(due.order_by("next_at")[:500])
    for row in rows:
        delivery_queue(row)
    return len(rows)


def _claimed(delivery_id: int) -> WebhookDelivery | None:
    now = timezone.now()
    with transaction.atomic():
        rows = WebhookDelivery.objects.select_for_update(of=("self",))
        row = rows.select_related("site", "webhook__site", "webhook__made_by").filter(pk=delivery_id).first()
        if row is None or row.state != DeliveryState.WAITING or row.next_at > now:
            return None
        row.tries, row.next_at = row.tries + 1, now + CLAIMED_FOR
        row.save(update_fields=["tries", "next_at"])
    return row


def _later(row: WebhookDelivery, fault: SendingError) -> None:
    seconds = wait_after(row.tries)
    if seconds is None:
        _end(row, DeliveryState.GIVEN_UP, answer=fault.answer, fault=str(fault))
        return
    row.next_at = timezone.now() + timedelta(seconds=seconds)
    row.answer, row.fault = fault.answer, str(fault)[:200]
    with transaction.atomic():
        row.save(update_fields=["next_at", "answer", "fault"])
        if seconds <= LONGEST_COUNTDOWN_S:
            delivery_queue(row, seconds)


def _end(row: WebhookDelivery, state: DeliveryState, *, answer: int | None = None, fault: str = "") -> None:
    row.state, row.ended_at, row.answer, row.fault = state, timezone.now(), answer, fault[:200]
    row.save(update_fields=["state", "ended_at", "answer", "fault"])
