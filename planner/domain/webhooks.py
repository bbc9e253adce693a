"""What other programs are told of: the kinds of event, and when a delivery is tried again."""

from enum import StrEnum


class WebhookEvent(StrEnum):
    """Something that happened on a site."""

    PLAN_PUBLISHED = "plan.published"
    PROMISES_CHANGED = "promises.changed"
    TYRE_UNATTENDED = "tyre.unattended"
    TRIED = "webhook.tried"


CHOSEN_EVENTS = tuple(event for event in WebhookEvent if event is not WebhookEvent.TRIED)
"""What a receiver may ask for; it is tried whatever it asks for."""


class DeliveryState(StrEnum):
    """How the delivery of one event stands."""

    WAITING = "waiting"
    DELIVERED = "delivered"
    GIVEN_UP = "given_up"


WAITS_S = (10, 60, 300, 1800, 7200, 21600, 43200)
"""Seconds between one try and the next: eight tries within 24 h, then it is given up."""


def wait_after(tries: int) -> int | None:
    """Seconds until the next try after so many; None where it was the last."""
    return WAITS_S[tries - 1] if tries <= len(WAITS_S) else None
