"""When a position or a heater set cannot be used."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.heater_set import HeaterSet
from planner.models.position import Position


class Closure(SiteOwned):
    """A stretch in which one position or one heater set is closed, and why."""

    position = models.ForeignKey(
        Position, on_delete=models.CASCADE, null=True, blank=True, related_name="closures"
    )
    heater_set = models.ForeignKey(
        HeaterSet, on_delete=models.CASCADE, null=True, blank=True, related_name="closures"
    )
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    reason = models.CharField(max_length=200)

    class Meta:
        ordering = ("starts_at",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(position__isnull=True, heater_set__isnull=False)
                | models.Q(position__isnull=False, heater_set__isnull=True),
                name="closure_of_one_thing",
            ),
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="closure_ends_after_it_starts"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.position or self.heater_set} closed: {self.reason}"
