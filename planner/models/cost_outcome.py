"""How long repaired tyres ran."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.domain.injury import Zone
from planner.models.base import SiteOwned, choices_of, one_of


class CostOutcome(SiteOwned):
    """A past repair and what became of it; a tyre that still runs is on file as not failed so far."""

    serial = models.CharField(max_length=40)
    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    size_class = models.SlugField(max_length=40, help_text="the code of the size class")
    repaired_on = models.DateField()
    hours = models.DecimalField(max_digits=9, decimal_places=1, validators=[MinValueValidator(1)])
    distance_km = models.DecimalField(
        max_digits=10, decimal_places=1, null=True, blank=True, validators=[MinValueValidator(1)]
    )
    failed = models.BooleanField(help_text="the repair ended its life")

    class Meta:
        ordering = ("repaired_on", "serial")
        constraints = [
            models.UniqueConstraint(
                fields=("site", "serial", "zone", "repaired_on"), name="cost_outcome_once_for_a_repair"
            ),
            models.CheckConstraint(condition=models.Q(hours__gte=1), name="cost_outcome_ran"),
            one_of("zone", Zone, "cost_outcome_zone"),
        ]

    def __str__(self) -> str:
        return f"{self.serial}, {self.zone}, repaired {self.repaired_on}"
