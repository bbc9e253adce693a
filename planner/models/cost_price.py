"""Prices with the day from which they hold."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.costing.rates import PRICED
from planner.models.entered import Entered


class CostPrice(Entered):
    """A price per unit of something that a repair takes, or of a tyre; older ones stay on file."""

    kind = models.CharField(max_length=20, choices=[(kind.value, kind.value) for kind in PRICED])
    item = models.CharField(max_length=60, help_text="grade, material, heater set or tyre size")
    unit = models.CharField(max_length=20)
    amount = models.DecimalField(max_digits=14, decimal_places=4, validators=[MinValueValidator(0)])
    currency = models.CharField(max_length=3)
    loading = models.DecimalField(
        max_digits=6,
        decimal_places=4,
        default=0,
        validators=[MinValueValidator(0)],
        help_text="share of labour",
    )
    overtime_factor = models.DecimalField(
        max_digits=5, decimal_places=3, default=1, validators=[MinValueValidator(1)]
    )
    effective_from = models.DateField()
    source = models.CharField(max_length=200)

    class Meta:
        ordering = ("kind", "item", "-effective_from")
        constraints = [
            models.UniqueConstraint(
                fields=("site", "kind", "item", "effective_from"), name="cost_price_one_from_a_day"
            ),
            models.CheckConstraint(
                condition=models.Q(amount__gte=0, loading__gte=0, overtime_factor__gte=1),
                name="cost_price_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind}, {self.item}, from {self.effective_from}"
