"""Webhooks: made, read, changed, tried, ended; and the log of what was sent."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.webhooks.shapes import DeliveryShape, NewWebhookShape, WebhookMake, WebhookShape
from planner.domain.permissions import Action
from planner.domain.webhooks import WebhookEvent
from planner.selectors.nouns import Webhook
from planner.selectors.webhooks import delivery_list, webhook_get, webhook_list
from planner.services import webhooks as services


class Webhooks(SiteView):
    """The receivers of a site."""

    actions = {"GET": Action.WEBHOOK_CHANGE, "POST": Action.WEBHOOK_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="webhook_list", responses=WebhookShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The receivers, newest first, without their secrets."""
        return self.page(webhook_list(user=self.user, site=self.site), WebhookShape)

    @extend_schema(operation_id="webhook_make", request=WebhookMake, responses={201: NewWebhookShape})
    def post(self, request: Request, site: str) -> Response:
        """Make a receiver; the secret that signs its messages is in this answer and nowhere else."""
        return self.once(self._made, secret="secret")  # noqa: S106 (the name of a field)

    def _made(self) -> Response:
        values = self.sent(WebhookMake)
        values["events"] = [WebhookEvent(each) for each in values["events"]]
        row, secret = services.webhook_make(user=self.user, site=self.site, **values)
        return Response({**self.shaped(row, WebhookShape), "secret": secret}, status=201)


class OneWebhook(SiteView):
    """One receiver."""

    actions = dict.fromkeys(("GET", "PATCH", "DELETE"), Action.WEBHOOK_CHANGE)

    @extend_schema(operation_id="webhook_get", responses=WebhookShape)
    def get(self, request: Request, site: str, webhook: int) -> Response:
        """One receiver without its secret."""
        return self.one(webhook_of(self, webhook), WebhookShape)

    @extend_schema(operation_id="webhook_change", request=WebhookMake, responses=WebhookShape)
    def patch(self, request: Request, site: str, webhook: int) -> Response:
        """Change its name, address or events; its secret stays."""
        row = webhook_of(self, webhook)
        self.refuse_unmatched(row, WebhookShape)
        services.webhook_change(user=self.user, webhook=row, values=self.sent(WebhookMake, partial=True))
        return self.one(webhook_of(self, webhook), WebhookShape)

    @extend_schema(operation_id="webhook_end", responses={204: None})
    def delete(self, request: Request, site: str, webhook: int) -> Response:
        """Tell it nothing more; the log of its deliveries stays."""
        row = webhook_of(self, webhook)
        self.refuse_unmatched(row, WebhookShape)
        services.webhook_end(user=self.user, webhook=row)
        return Response(status=204)


class WebhookTry(SiteView):
    """The trying of one receiver."""

    actions = {"POST": Action.WEBHOOK_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="webhook_try", request=None, responses={201: DeliveryShape})
    def post(self, request: Request, site: str, webhook: int) -> Response:
        """Send it a message that says nothing; see under deliveries whether it arrived."""
        return self.once(lambda: self._tried(webhook))

    def _tried(self, webhook: int) -> Response:
        row = services.webhook_try(user=self.user, webhook=webhook_of(self, webhook))
        return self.one(row, DeliveryShape, status=201)


class Deliveries(SiteView):
    """What one receiver was told."""

    actions = {"GET": Action.WEBHOOK_CHANGE}

    @extend_schema(operation_id="webhook_delivery_list", responses=DeliveryShape(many=True))
    def get(self, request: Request, site: str, webhook: int) -> Response:
        """Its messages, newest first, with what became of each."""
        return self.page(delivery_list(user=self.user, webhook=webhook_of(self, webhook)), DeliveryShape)


class OneDelivery(SiteView):
    """One message to a receiver."""

    actions = {"GET": Action.WEBHOOK_CHANGE}

    @extend_schema(operation_id="webhook_delivery_get", responses=DeliveryShape)
    def get(self, request: Request, site: str, webhook: int, delivery: int) -> Response:
        """The message with what became of it."""
        rows = delivery_list(user=self.user, webhook=webhook_of(self, webhook))
        return self.one(found(rows, pk=delivery), DeliveryShape)


class DeliveryAgain(SiteView):
    """The sending again of one message."""

    actions = {"POST": Action.WEBHOOK_CHANGE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="webhook_delivery_again", request=None, responses=DeliveryShape)
    def post(self, request: Request, site: str, webhook: int, delivery: int) -> Response:
        """Send a message that was given up once more, under its own id."""
        rows = delivery_list(user=self.user, webhook=webhook_of(self, webhook))
        row = found(rows, pk=delivery)
        self.refuse_unmatched(row, DeliveryShape)
        services.delivery_again(user=self.user, delivery=row)
        return self.one(found(rows, pk=delivery), DeliveryShape)


def webhook_of(view: SiteView, webhook: int) -> Webhook:
    """The receiver that the caller may keep."""
    return webhook_get(user=view.user, site=view.site, webhook_id=webhook)
