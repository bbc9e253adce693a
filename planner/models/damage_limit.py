"""How large an injury the site repairs."""

from django.db import models

from planner.domain.injury import Zone
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.size_class import SizeClass


class DamageLimit(SiteOwned):
    """The largest injury that may be repaired in a zone and class, and by which document."""

    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    size_class = models.ForeignKey(
        SizeClass, on_delete=models.PROTECT, null=True, blank=True, related_name="limits"
    )
    largest_length_mm = models.PositiveIntegerField(null=True, blank=True)
    largest_width_mm = models.PositiveIntegerField(null=True, blank=True)
    largest_depth_mm = models.PositiveIntegerField(null=True, blank=True)
    most_plies = models.PositiveSmallIntegerField(null=True, blank=True)
    most_repairs = models.PositiveSmallIntegerField(null=True, blank=True)
    source = models.CharField(max_length=200, help_text="the document that states it")

    class Meta:
        ordering = ("zone", "size_class")
        constraints = [
            models.UniqueConstraint(
                fields=("site", "zone", "size_class"), name="damage_limit_one_for_zone_and_class"
            ),
            models.UniqueConstraint(
                fields=("site", "zone"),
                condition=models.Q(size_class__isnull=True),
                name="damage_limit_one_for_zone_and_any_size",
            ),
            one_of("zone", Zone, "damage_limit_zone"),
        ]

    def __str__(self) -> str:
        return f"{self.zone}, {self.size_class or 'any size'}"
