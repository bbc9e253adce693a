"""An injury of a tyre as it was recorded."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.domain.injury import Injury, InjurySource, Zone
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.material import Material
from planner.models.tyre import Tyre
from planner.models.work_order import WorkOrder


class Damage(SiteOwned):
    """One injury with its greatest length, width and depth, guessed or measured."""

    tyre = models.ForeignKey(Tyre, on_delete=models.PROTECT, related_name="damages")
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.PROTECT, null=True, blank=True, related_name="damages"
    )
    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    length_mm = models.PositiveIntegerField(validators=[MinValueValidator(1), MaxValueValidator(5000)])
    width_mm = models.PositiveIntegerField(validators=[MinValueValidator(1), MaxValueValidator(5000)])
    depth_mm = models.PositiveIntegerField(validators=[MinValueValidator(1), MaxValueValidator(500)])
    plies = models.PositiveSmallIntegerField(default=0, validators=[MaxValueValidator(100)])
    source = models.CharField(
        max_length=12, choices=choices_of(InjurySource), default=InjurySource.PROVISIONAL
    )
    material = models.ForeignKey(
        Material,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="what it is filled with; empty: the site's material for the zone",
    )
    cushion_mm = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="cushion under the fill, known after skiving [mm]"
    )
    casing_mm = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="casing left under the repair, known after skiving [mm]"
    )
    note = models.CharField(max_length=300, blank=True)
    noted_at = models.DateTimeField()
    noted_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(length_mm__gte=1, width_mm__gte=1, depth_mm__gte=1),
                name="damage_has_a_size",
            ),
            one_of("zone", Zone, "damage_zone"),
            one_of("source", InjurySource, "damage_source"),
        ]

    def __str__(self) -> str:
        return f"{self.zone}, {self.length_mm} × {self.width_mm} × {self.depth_mm} mm"

    @property
    def injury(self) -> Injury:
        """The damage as a value of the domain."""
        return Injury(
            zone=Zone(self.zone), length_mm=self.length_mm, width_mm=self.width_mm,
            depth_mm=self.depth_mm, plies=self.plies,
        )  # fmt: skip
