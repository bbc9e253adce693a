"""Webhooks and their deliveries as they are answered and asked for."""

from typing import Any

from rest_framework import serializers

from api.base.named import Named
from planner.domain.webhooks import CHOSEN_EVENTS
from planner.selectors.nouns import Webhook, WebhookDelivery

_EVENTS = [event.value for event in CHOSEN_EVENTS]


class WebhookShape(serializers.ModelSerializer[Webhook]):
    """A receiver without its secret."""

    made_by = Named(slug_field="username", read_only=True)
    events = serializers.ListField(child=serializers.ChoiceField(choices=_EVENTS), read_only=True)

    class Meta:
        """All but its site and what its secret is made from."""

        model = Webhook
        fields = ("id", "version", "name", "url", "events", "made_by", "made_at", "ended_at")


class NewWebhookShape(WebhookShape):
    """A receiver as it is told once; a repeated request is answered without the secret."""

    secret = serializers.CharField(allow_null=True, read_only=True)

    class Meta(WebhookShape.Meta):
        """The secret besides."""

        fields = (*WebhookShape.Meta.fields, "secret")  # type: ignore[assignment]


class WebhookMake(serializers.Serializer[Any]):
    """Where to send, and what."""

    name = serializers.CharField(max_length=80)
    url = serializers.CharField(max_length=500)
    events = serializers.ListField(
        child=serializers.ChoiceField(choices=_EVENTS), min_length=1, max_length=len(_EVENTS)
    )


class DeliveryShape(serializers.ModelSerializer[WebhookDelivery]):
    """One event for a receiver; `answer` is the status of the last try, null where none came."""

    class Meta:
        """All but its site and receiver."""

        model = WebhookDelivery
        exclude = ("site", "webhook")
