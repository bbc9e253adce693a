"""The inspection of a finished repair: released or rejected by a person."""

from django.conf import settings
from django.db import models

from planner.models.base import WrittenOnce
from planner.models.work_order import WorkOrder


class Inspection(WrittenOnce):
    """What a person found and decided; a later inspection stands beside it."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="inspections")
    released = models.BooleanField(help_text="no: the repair is rejected")
    found = models.CharField(max_length=300, help_text="what was looked at and how it was")
    inspected_at = models.DateTimeField()
    inspected_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("inspected_at", "pk")

    def __str__(self) -> str:
        return f"inspection of {self.work_order}: {'released' if self.released else 'rejected'}"
