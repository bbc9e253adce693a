"""New tyres that are on order."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import SiteOwned


class TyreDelivery(SiteOwned):
    """So many new tyres of a size, expected on a day; they join the store when they arrive."""

    size = models.CharField(max_length=24, help_text="the normal form, such as 27.00R49")
    quantity = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(500)])
    expected_on = models.DateField()
    reference = models.CharField(max_length=60, blank=True, help_text="the purchase order's number")
    arrived_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("expected_on", "size", "pk")
        verbose_name_plural = "tyre deliveries"
        constraints = [
            models.CheckConstraint(condition=models.Q(quantity__gte=1), name="tyre_delivery_of_something"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} × {self.size} expected {self.expected_on}"
