"""Receivers outside that are told what happens on a site, and what became of each telling."""

from django.conf import settings
from django.db import models

from planner.domain.webhooks import DeliveryState, WebhookEvent
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.damage import Damage


class Webhook(SiteOwned):
    """A receiver; its secret is worked out from `nonce` and the service's own secret, and kept nowhere.

    It tells what its maker may read, and nothing once they are no longer of the site.
    """

    name = models.CharField(max_length=80)
    url = models.CharField(max_length=500)
    events = models.JSONField(help_text="what it is told of")
    nonce = models.CharField(max_length=64, unique=True, editable=False)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        return f"webhook {self.name}"


class WebhookDelivery(SiteOwned):
    """One event for one receiver; the event's id stays the same however often it is sent."""

    webhook = models.ForeignKey(Webhook, on_delete=models.CASCADE, related_name="deliveries")
    event_id = models.CharField(max_length=40)
    event = models.CharField(max_length=24, choices=choices_of(WebhookEvent))
    body = models.TextField(help_text="the very text that is signed and sent")
    state = models.CharField(max_length=12, choices=choices_of(DeliveryState), default=DeliveryState.WAITING)
    tries = models.PositiveSmallIntegerField(default=0)
    made_at = models.DateTimeField()
    next_at = models.DateTimeField(help_text="not before")
    ended_at = models.DateTimeField(null=True, blank=True)
    answer = models.PositiveSmallIntegerField(null=True, blank=True, help_text="status of the last answer")
    fault = models.CharField(max_length=200, blank=True, help_text="why the last try failed")

    class Meta:
        ordering = ("-made_at", "-pk")
        verbose_name_plural = "webhook deliveries"
        indexes = [models.Index(fields=("state", "next_at"), name="webhook_delivery_due")]
        constraints = [
            models.UniqueConstraint(fields=("webhook", "event_id"), name="webhook_delivery_once"),
            one_of("state", DeliveryState, "webhook_delivery_state"),
            one_of("event", WebhookEvent, "webhook_delivery_event"),
        ]

    def __str__(self) -> str:
        return f"{self.event} for {self.webhook}"


class TyreAlarm(SiteOwned):
    """A stretch in which nobody attended a tyre that was hot or under pressure, as the clock saw it."""

    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="+")
    began_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-began_at", "-pk")
        constraints = [
            models.UniqueConstraint(
                fields=("damage",), condition=models.Q(ended_at__isnull=True), name="tyre_alarm_one_at_a_time"
            )
        ]

    def __str__(self) -> str:
        return f"{self.damage} unattended"
