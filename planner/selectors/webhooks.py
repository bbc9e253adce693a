"""Reading the receivers of a site, and what became of what they were told."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.webhooks import WebhookEvent
from planner.models import Site, User, Webhook, WebhookDelivery
from planner.selectors.access import may_on_site, require_on_site


def webhook_list(*, user: User, site: Site) -> QuerySet[Webhook]:
    """The receivers, newest first, those that were ended as well."""
    require_on_site(user=user, site=site, action=Action.WEBHOOK_CHANGE)
    return Webhook.objects.filter(site=site).select_related("made_by", "site")


def webhook_get(*, user: User, site: Site, webhook_id: int) -> Webhook:
    """One receiver; NotFoundError where the site has none with this id."""
    row = webhook_list(user=user, site=site).filter(pk=webhook_id).first()
    if row is None:
        raise NotFoundError(_("there is no webhook {webhook_id} on {site}", webhook_id=webhook_id, site=site))
    return row


def webhooks_asking(*, site: Site, event: WebhookEvent) -> list[Webhook]:
    """The receivers that go on and ask for the event, for the service itself, which has no user."""
    kept = Webhook.objects.filter(site=site, ended_at__isnull=True).select_related("site", "made_by")
    return [each for each in kept if event in each.events]


def webhook_is_served(*, webhook: Webhook) -> bool:
    """Whether it goes on, and its maker may still keep it."""
    return webhook.ended_at is None and may_on_site(
        user=webhook.made_by, site=webhook.site, action=Action.WEBHOOK_CHANGE
    )


def delivery_list(*, user: User, webhook: Webhook) -> QuerySet[WebhookDelivery]:
    """What a receiver was told, newest first."""
    require_on_site(user=user, site=webhook.site, action=Action.WEBHOOK_CHANGE)
    return WebhookDelivery.objects.filter(webhook=webhook).select_related("site")
