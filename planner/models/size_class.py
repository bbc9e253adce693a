"""Classes of tyre size, for routes and limits."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.models.base import NamedOnSite


class SizeClass(NamedOnSite):
    """Sizes from one rim diameter to another, as the site groups them."""

    smallest_rim_inch = models.DecimalField(max_digits=4, decimal_places=1, validators=[MinValueValidator(1)])
    largest_rim_inch = models.DecimalField(max_digits=4, decimal_places=1)

    class Meta:
        ordering = ("smallest_rim_inch",)
        verbose_name_plural = "size classes"
        constraints = [
            models.UniqueConstraint(fields=("site", "code"), name="size_class_code_on_site"),
            models.CheckConstraint(
                condition=models.Q(largest_rim_inch__gte=models.F("smallest_rim_inch")),
                name="size_class_in_order",
            ),
        ]
