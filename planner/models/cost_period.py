"""Closed months of the books."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned


class CostPeriod(SiteOwned):
    """A month that is closed: nothing that would change it is accepted any more."""

    month = models.DateField(help_text="its first day")
    closed_at = models.DateTimeField(auto_now_add=True)
    closed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("-month",)
        constraints = [
            models.UniqueConstraint(fields=("site", "month"), name="cost_period_closed_once"),
            models.CheckConstraint(condition=models.Q(month__day=1), name="cost_period_is_a_month"),
        ]

    def __str__(self) -> str:
        return f"{self.month:%B %Y}"
