"""A repair's record as it was signed."""

from django.conf import settings
from django.db import models

from planner.models.base import WrittenOnce
from planner.models.work_order import WorkOrder


class RecordVersion(WrittenOnce):
    """The whole record at the time of signing; a correction is the next number with its reason."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="record_versions")
    number = models.PositiveIntegerField()
    content = models.JSONField()
    content_sha256 = models.CharField(max_length=64)
    reason = models.CharField(
        max_length=300, blank=True, help_text="why it was corrected; empty in the first"
    )
    signed_at = models.DateTimeField()
    signed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("work_order", "number")
        constraints = [
            models.UniqueConstraint(fields=("work_order", "number"), name="record_version_number"),
            models.CheckConstraint(
                condition=models.Q(number=1) | ~models.Q(reason=""),
                name="record_version_correction_has_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"record of {self.work_order}, version {self.number}"
