"""How long a tyre of a size stays on its machine, for want of the site's own records."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import SiteOwned


class RemovalAssumption(SiteOwned):
    """Mean running hours between a tyre's fitting and its removal for damage or wear, with the reason."""

    size = models.CharField(max_length=24, help_text="the normal form, such as 27.00R49")
    hours = models.PositiveIntegerField(validators=[MinValueValidator(10), MaxValueValidator(100_000)])
    reason = models.CharField(max_length=300)

    class Meta:
        ordering = ("size",)
        constraints = [
            models.UniqueConstraint(fields=("site", "size"), name="removal_assumption_one_for_a_size"),
            models.CheckConstraint(condition=models.Q(hours__gte=10), name="removal_assumption_sensible"),
        ]

    def __str__(self) -> str:
        return f"{self.hours} h for {self.size}"
