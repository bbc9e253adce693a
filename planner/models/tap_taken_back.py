"""A tap of the floor that was taken back: the stage did not begin, or is not over."""

from django.conf import settings
from django.db import models

from planner.domain.taking_back import StageTap
from planner.models.base import WrittenOnce, choices_of, one_of
from planner.models.damage import Damage
from planner.models.work_order import WorkOrder


class TapTakenBack(WrittenOnce):
    """What stood on record, who had tapped it, and who took it back when and why."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="taps_taken_back")
    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="taps_taken_back")
    stage = models.CharField(max_length=60)
    tap = models.CharField(max_length=12, choices=choices_of(StageTap))
    tapped_at = models.DateTimeField(help_text="when the stage was said to begin, or to be over")
    tapped_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    taken_back_at = models.DateTimeField()
    taken_back_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    set_is_safe = models.BooleanField(
        default=False, help_text="they saw that its heater set is off and every bag empty"
    )
    why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("taken_back_at", "pk")
        verbose_name_plural = "taps taken back"
        constraints = [one_of("tap", StageTap, "tap_taken_back_tap")]

    def __str__(self) -> str:
        return f"{self.tap} of {self.stage} of {self.work_order}, taken back"
