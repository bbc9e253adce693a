"""A logger's file that somebody looks at before it is kept."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned
from planner.models.damage import Damage
from planner.models.heater_set import HeaterSet


class CureLogUpload(SiteOwned):
    """The file between upload and import; it goes when it is imported, put away or a day old."""

    damage = models.ForeignKey(Damage, on_delete=models.CASCADE, related_name="+")
    heater_set = models.ForeignKey(
        HeaterSet, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    logger = models.CharField(max_length=60, blank=True)
    file_name = models.CharField(max_length=200)
    file_raw = models.BinaryField()
    columns = models.JSONField(null=True, blank=True)
    by_hand = models.BooleanField(default=False, help_text="read from gauges and typed")
    uploaded_at = models.DateTimeField()
    uploaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")

    class Meta:
        ordering = ("uploaded_at",)

    def __str__(self) -> str:
        return self.file_name
