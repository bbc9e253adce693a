"""Heater sets and the sizes and zones that they fit."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.domain.injury import Zone
from planner.models.base import NamedOnSite, choices_of, one_of


class HeaterSet(NamedOnSite):
    """Pads, bags and a frame that cure one tyre at a time."""

    channels = models.PositiveSmallIntegerField(help_text="controller outlets taken while energised")
    power_kw = models.DecimalField(max_digits=7, decimal_places=2, validators=[MinValueValidator(0)])
    turnaround_minutes = models.PositiveSmallIntegerField(default=0)
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("code",)
        constraints = [
            models.UniqueConstraint(fields=("site", "code"), name="heater_set_code_on_site"),
            models.CheckConstraint(condition=models.Q(power_kw__gte=0), name="heater_set_power_not_negative"),
        ]


class HeaterSetFit(models.Model):
    """A range of tyre sizes in one damage zone that a set fits, by its maker."""

    heater_set = models.ForeignKey(HeaterSet, on_delete=models.CASCADE, related_name="fits")
    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    smallest_size = models.CharField(max_length=24)
    largest_size = models.CharField(max_length=24)

    class Meta:
        ordering = ("heater_set", "zone", "pk")
        constraints = [
            models.UniqueConstraint(
                fields=("heater_set", "zone", "smallest_size", "largest_size"), name="heater_set_fit_once"
            ),
            one_of("zone", Zone, "heater_set_fit_zone"),
        ]

    def __str__(self) -> str:
        return f"{self.zone}, {self.smallest_size} to {self.largest_size}"
