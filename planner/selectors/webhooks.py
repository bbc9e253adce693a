"""Reading the receivers of a site, and what became of what they were told."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.models import Site, User, Webhook, WebhookDelivery
from planner.selectors.access import require_on_site


def webhook_list(*, user: User, site: Site) -> QuerySet[Webhook]:
    """The receivers, newest first, those that were ended as well."""
    require_on_site(user=user, site=site, action=Action.WEBHOOK_CHANGE)
    return Webhook.objects.filter(site=site).select_related("made_by", "site")


def webhook_get(*, user: User, site: Site, webhook_id: int) -> Webhook:
    """One receiver; NotFoundError where the site has none with this id."""
    row = webhook_list(user=user, site=site).filter(pk=webhook_id).first()
    if row is None:
        raise NotFoundError(f"there is no webhook {webhook_id} on {site}")
    return row


def delivery_list(*, user: User, webhook: Webhook) -> QuerySet[WebhookDelivery]:
    """What a receiver was told, newest first."""
    require_on_site(user=user, site=webhook.site, action=Action.WEBHOOK_CHANGE)
    return WebhookDelivery.objects.filter(webhook=webhook).select_related("site")
