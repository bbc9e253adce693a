"""What a repair really took beside its hours: lots of material, meter readings, trips and inspections."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.models.base import SiteOwned
from planner.models.work_order import WorkOrder


class CostUse(SiteOwned):
    """A quantity used, with the lot or the meter that shows it."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="cost_uses")
    kind = models.CharField(
        max_length=20,
        choices=[(kind, kind) for kind in ("materials", "energy", "transport", "inspection")],
    )
    item = models.CharField(max_length=60)
    quantity = models.DecimalField(max_digits=12, decimal_places=4, validators=[MinValueValidator(0)])
    evidence = models.CharField(max_length=120, blank=True, help_text="lot number or meter reading")

    class Meta:
        ordering = ("work_order", "kind", "item", "pk")
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gte=0), name="cost_use_not_negative")
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of {self.item} for {self.work_order}"
