"""Keeping the receivers of a site: made, changed, tried, ended. A receiver's secret is told once."""

import secrets
from collections.abc import Collection
from typing import Any

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.webhooks import CHOSEN_EVENTS, DeliveryState, WebhookEvent
from planner.models import Site, User, Webhook, WebhookDelivery
from planner.selectors.access import require_on_site
from planner.services.rows import row_add, row_change
from planner.services.webhook_events import delivery_add, delivery_queue
from planner.services.webhook_sending import receiver_of
from planner.services.webhook_signing import secret_text

MOST_WEBHOOKS = 20


def webhook_make(
    *, user: User, site: Site, name: str, url: str, events: Collection[WebhookEvent]
) -> tuple[Webhook, str]:
    """Make a receiver and its secret, which is told this once.

    Raises InvalidValueError where its address may not be called from here.
    """
    require_on_site(user=user, site=site, action=Action.WEBHOOK_CHANGE)
    if Webhook.objects.filter(site=site, ended_at__isnull=True).count() >= MOST_WEBHOOKS:
        raise ConflictError(
            _(
                "{site} has {most_webhooks} webhooks, as many as a site may have: end one",
                site=site,
                most_webhooks=MOST_WEBHOOKS,
            )
        )
    receiver_of(url)
    row = Webhook(
        site=site,
        name=name.strip(),
        url=url,
        events=_asked(events),
        nonce=secrets.token_hex(32),
        made_by=user,
        made_at=timezone.now(),
    )
    row_add(user=user, site=site, row=row, action="webhook_make")
    return row, secret_text(row.nonce)


def webhook_change(*, user: User, webhook: Webhook, values: dict[str, Any], why: str = "") -> None:
    """Change a receiver's name, address or events; its secret stays."""
    require_on_site(user=user, site=webhook.site, action=Action.WEBHOOK_CHANGE)
    _refuse_ended(webhook)
    if "url" in values:
        receiver_of(values["url"])
    if "events" in values:
        values = {**values, "events": _asked(values["events"])}
    row_change(user=user, site=webhook.site, row=webhook, values=values, action="webhook_change", why=why)


def webhook_end(*, user: User, webhook: Webhook, why: str = "") -> None:
    """Tell a receiver nothing more; what waits for it is given up, the log stays."""
    require_on_site(user=user, site=webhook.site, action=Action.WEBHOOK_CHANGE)
    _refuse_ended(webhook)
    now = timezone.now()
    with transaction.atomic():
        values = {"ended_at": now}
        row_change(user=user, site=webhook.site, row=webhook, values=values, action="webhook_end", why=why)
        waiting = WebhookDelivery.objects.filter(webhook=webhook, state=DeliveryState.WAITING)
        waiting.update(state=DeliveryState.GIVEN_UP, ended_at=now, fault=_("the webhook was ended"))


def webhook_try(*, user: User, webhook: Webhook) -> WebhookDelivery:
    """Send an event that says nothing, to see whether it arrives."""
    require_on_site(user=user, site=webhook.site, action=Action.WEBHOOK_CHANGE)
    _refuse_ended(webhook)
    with transaction.atomic():
        return delivery_add(webhook=webhook, event=WebhookEvent.TRIED, data={"webhook": webhook.pk})


def delivery_again(*, user: User, delivery: WebhookDelivery) -> None:
    """Send an event that was given up once more, under the same id."""
    require_on_site(user=user, site=delivery.site, action=Action.WEBHOOK_CHANGE)
    with transaction.atomic():
        row = WebhookDelivery.objects.select_for_update().select_related("webhook").get(pk=delivery.pk)
        _refuse_ended(row.webhook)
        if row.state != DeliveryState.GIVEN_UP:
            raise ConflictError(
                _("{row} is {state}: only one that was given up is sent again", row=row, state=row.state)
            )
        row.state, row.tries, row.next_at, row.ended_at = DeliveryState.WAITING, 0, timezone.now(), None
        row.save()
        delivery_queue(row)


def _asked(events: Collection[WebhookEvent]) -> list[str]:
    unknown = sorted(set(events) - set(CHOSEN_EVENTS))
    if unknown or not events:
        raise InvalidValueError(
            _("say what it is told of: some of {chosen_events}", chosen_events=tuple(CHOSEN_EVENTS))
        )
    return sorted(set(events))


def _refuse_ended(webhook: Webhook) -> None:
    if webhook.ended_at is not None:
        raise ConflictError(_("{webhook} was ended: make another", webhook=webhook))
