"""A reading of a cure that somebody took from the gauges and typed."""

from django.conf import settings
from django.db import models

from planner.models.base import WrittenOnce
from planner.models.damage import Damage
from planner.models.stage_run import StageRun


class CureReading(WrittenOnce):
    """Both pads and the bags at one time, with who read them; a correction is a row beside it.

    A correction without figures withdraws the reading that it corrects.
    """

    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="cure_readings")
    stage_run = models.ForeignKey(
        StageRun, on_delete=models.PROTECT, null=True, blank=True, related_name="+",
        help_text="the stage that went on at that time",
    )  # fmt: skip
    taken_at = models.DateTimeField()
    inside_c = models.FloatField(null=True, blank=True, help_text="inside pad [°C]")
    outside_c = models.FloatField(null=True, blank=True, help_text="outside pad [°C]")
    pressure_kpa = models.FloatField(null=True, blank=True, help_text="the lower bag [kPa]")
    as_typed = models.CharField(max_length=80, blank=True, help_text="in the units of the gauges")
    note = models.CharField(max_length=200, blank=True)
    corrects = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("damage", "taken_at", "pk")
        constraints = [
            models.UniqueConstraint(
                fields=("damage", "taken_at"),
                condition=models.Q(corrects__isnull=True),
                name="cure_reading_once_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(inside_c__isnull=False)
                | models.Q(outside_c__isnull=False)
                | models.Q(pressure_kpa__isnull=False)
                | models.Q(corrects__isnull=False),
                name="cure_reading_says_something",
            ),
            models.CheckConstraint(
                condition=models.Q(corrects__isnull=True) | ~models.Q(note=""),
                name="cure_reading_correction_has_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"reading {self.taken_at:%H:%M:%S} of {self.damage}: {self.as_typed or 'withdrawn'}"
