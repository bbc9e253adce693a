"""Who really attends a tyre that is hot or under pressure."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.damage import Damage
from planner.models.technician import Technician


class TyreWatch(SiteOwned):
    """One technician attending the cure of one injury; `handed_to` is who was asked to take it over."""

    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="watches")
    technician = models.ForeignKey(Technician, on_delete=models.PROTECT, related_name="watches")
    signed_on_at = models.DateTimeField()
    signed_off_at = models.DateTimeField(null=True, blank=True)
    handed_to = models.ForeignKey(
        Technician, on_delete=models.PROTECT, null=True, blank=True, related_name="watches_offered"
    )

    class Meta:
        ordering = ("-signed_on_at", "-pk")
        verbose_name_plural = "tyre watches"
        constraints = [
            models.UniqueConstraint(
                fields=("damage",),
                condition=models.Q(signed_off_at__isnull=True),
                name="tyre_watch_one_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(signed_off_at__isnull=True)
                | models.Q(signed_off_at__gte=models.F("signed_on_at")),
                name="tyre_watch_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.technician} attending {self.damage}"
