"""What the site's heater sets cost and how long they are to last."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.models.entered import Entered


class CostAsset(Entered):
    """A heater set as it was bought, in the site's currency; the way it is written off is an assumption."""

    item = models.CharField(max_length=60, help_text="the heater set's code")
    bought_on = models.DateField()
    first_cost = models.DecimalField(max_digits=14, decimal_places=2, validators=[MinValueValidator(0)])
    salvage = models.DecimalField(
        max_digits=14, decimal_places=2, default=0, validators=[MinValueValidator(0)],
        help_text="worth at the end of its life",
    )  # fmt: skip
    life_years = models.PositiveSmallIntegerField(validators=[MinValueValidator(1)])
    life_hours = models.PositiveIntegerField(validators=[MinValueValidator(1)], help_text="[h]")
    hours_before = models.PositiveIntegerField(default=0, help_text="used before the books began [h]")
    booked_seconds = models.PositiveBigIntegerField(
        default=0, editable=False, help_text="held by repairs whose actual is booked [s]"
    )
    source = models.CharField(max_length=200)

    class Meta:
        ordering = ("item",)
        constraints = [
            models.UniqueConstraint(fields=("site", "item"), name="cost_asset_one_for_a_set"),
            models.CheckConstraint(
                condition=models.Q(
                    first_cost__gte=models.F("salvage"), salvage__gte=0, life_years__gte=1, life_hours__gte=1
                ),
                name="cost_asset_loses_worth",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item}, bought on {self.bought_on}"
