"""A day on which somebody's pattern does not hold."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.technician import Technician


class RosterException(SiteOwned):
    """One technician's other hours on one day; with no hours it is a day off."""

    technician = models.ForeignKey(Technician, on_delete=models.CASCADE, related_name="exceptions")
    day = models.DateField()
    starts_at = models.TimeField(null=True, blank=True)
    ends_at = models.TimeField(null=True, blank=True)
    reason = models.CharField(max_length=200)

    class Meta:
        ordering = ("day", "technician")
        constraints = [
            models.UniqueConstraint(fields=("technician", "day"), name="roster_exception_once_a_day"),
            models.CheckConstraint(
                condition=models.Q(starts_at__isnull=True, ends_at__isnull=True)
                | models.Q(starts_at__isnull=False, ends_at__isnull=False),
                name="roster_exception_both_hours_or_none",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.technician} on {self.day}: {self.reason}"
