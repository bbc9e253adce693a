"""New tyres in the store."""

from django.db import models

from planner.models.entered import Entered


class CostStock(Entered):
    """How many new tyres of a size are on hand, and how many of them are promised to machines."""

    size = models.CharField(max_length=24, help_text="the normal form, such as 27.00R49")
    on_hand = models.PositiveSmallIntegerField(default=0)
    promised = models.PositiveSmallIntegerField(default=0)
    counted_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("size",)
        constraints = [models.UniqueConstraint(fields=("site", "size"), name="cost_stock_one_for_a_size")]

    def __str__(self) -> str:
        return f"stock of {self.size}"
