"""A view of the queue that somebody wants again."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned


class QueueView(SiteOwned):
    """A user's filter and order of rows under a name of their own."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    name = models.CharField(max_length=40)
    wanted = models.JSONField(default=dict, help_text="what is asked for, by the filter's names")

    class Meta:
        ordering = ("name", "pk")
        constraints = [models.UniqueConstraint(fields=("user", "site", "name"), name="queue_view_name_once")]

    def __str__(self) -> str:
        return self.name
