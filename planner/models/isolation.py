"""When the bay's supply is isolated."""

from django.db import models

from planner.models.base import SiteOwned


class Isolation(SiteOwned):
    """A planned isolation of the supply: nothing may be energised in it."""

    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    reason = models.CharField(max_length=200)

    class Meta:
        ordering = ("starts_at",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="isolation_ends_after_it_starts"
            ),
        ]

    def __str__(self) -> str:
        return self.reason
