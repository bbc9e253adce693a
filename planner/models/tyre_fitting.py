"""A tyre's time on one position of a machine."""

from django.db import models

from planner.domain.fleet import RemovalReason
from planner.models.base import SiteOwned, choices_of
from planner.models.machine import Machine
from planner.models.tyre import Tyre


class TyreFitting(SiteOwned):
    """From fitting to removal, by the clock and by the machine's hour meter."""

    tyre = models.ForeignKey(Tyre, on_delete=models.PROTECT, related_name="fittings")
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="fittings")
    position = models.CharField(max_length=20, blank=True, help_text="the code of the machine's position")
    fitted_at = models.DateTimeField()
    fitted_hours = models.PositiveIntegerField(help_text="of the machine's own meter [h]")
    removed_at = models.DateTimeField(null=True, blank=True)
    removed_hours = models.PositiveIntegerField(null=True, blank=True)
    reason = models.CharField(max_length=12, choices=choices_of(RemovalReason), blank=True)

    class Meta:
        ordering = ("-fitted_at", "-pk")
        indexes = [models.Index(fields=("site", "removed_at"))]
        constraints = [
            models.UniqueConstraint(
                fields=("tyre",),
                condition=models.Q(removed_at__isnull=True),
                name="tyre_fitted_once_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(removed_at__isnull=True, removed_hours__isnull=True, reason="")
                | models.Q(
                    removed_at__gte=models.F("fitted_at"),
                    removed_hours__gte=models.F("fitted_hours"),
                    reason__in=[each.value for each in RemovalReason],
                ),
                name="tyre_fitting_ends_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.tyre.serial} on {self.machine}"

    @property
    def hours_run(self) -> int | None:
        """What the machine ran meanwhile [h]; None while the tyre is still on."""
        return None if self.removed_hours is None else self.removed_hours - self.fitted_hours
