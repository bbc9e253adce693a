"""Whom the repair of a tyre concerns."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned
from planner.models.tyre import Tyre


class TyreFollow(SiteOwned):
    """A user who wants to hear when the promise of a tyre's repair changes."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="tyre_follows")
    tyre = models.ForeignKey(Tyre, on_delete=models.CASCADE, related_name="follows")
    since = models.DateTimeField()

    class Meta:
        ordering = ("-since", "-pk")
        constraints = [models.UniqueConstraint(fields=("user", "tyre"), name="tyre_follow_once")]

    def __str__(self) -> str:
        return f"{self.user} follows {self.tyre}"
