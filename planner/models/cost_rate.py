"""Tax and exchange rates with the day from which they hold."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.models.entered import Entered

TAX, EXCHANGE = "tax", "exchange"


class CostRate(Entered):
    """A share of tax on what is bought, or the site's money for one unit of a foreign currency."""

    kind = models.CharField(max_length=10, choices=[(TAX, "tax"), (EXCHANGE, "exchange")])
    name = models.CharField(max_length=40, help_text="the tax, or the foreign currency's three letters")
    rate = models.DecimalField(max_digits=14, decimal_places=6, validators=[MinValueValidator(0)])
    effective_from = models.DateField()
    source = models.CharField(max_length=200)

    class Meta:
        ordering = ("kind", "name", "-effective_from")
        constraints = [
            models.UniqueConstraint(
                fields=("site", "kind", "name", "effective_from"), name="cost_rate_one_from_a_day"
            ),
            models.CheckConstraint(condition=models.Q(rate__gte=0), name="cost_rate_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.name}, from {self.effective_from}"
