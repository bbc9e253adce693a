"""A photo of an injury, as it was made harmless: decoded, turned, drawn anew."""

from django.conf import settings
from django.db import models

from planner.models.base import WrittenOnce
from planner.models.damage import Damage


class InjuryPhoto(WrittenOnce):
    """One photo; nothing of the uploaded file but its picture is kept."""

    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="photos")
    words = models.CharField(max_length=120)
    jpeg = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    added_at = models.DateTimeField()
    added_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("added_at", "pk")
        constraints = [models.UniqueConstraint(fields=("damage", "sha256"), name="injury_photo_once")]

    def __str__(self) -> str:
        return f"photo of {self.damage}: {self.words}"
