"""A shift on the calendar, made from a pattern or an exception."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.technician import Technician


class Shift(SiteOwned):
    """A stretch in which one technician is in the bay; `day` is the wall day on which it starts."""

    technician = models.ForeignKey(Technician, on_delete=models.CASCADE, related_name="shifts")
    day = models.DateField()
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()

    class Meta:
        ordering = ("starts_at", "technician")
        indexes = [models.Index(fields=("site", "starts_at"))]
        constraints = [
            models.UniqueConstraint(fields=("technician", "starts_at"), name="shift_once"),
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="shift_ends_after_it_starts"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.technician} on {self.day}"


class ShiftBreak(models.Model):
    """A break inside a shift."""

    shift = models.ForeignKey(Shift, on_delete=models.CASCADE, related_name="breaks")
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()

    class Meta:
        ordering = ("starts_at",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="break_ends_after_it_starts"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.starts_at:%H:%M} to {self.ends_at:%H:%M} UTC"
