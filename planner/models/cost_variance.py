"""Why a repair cost more or less than estimated."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.cost_repair import CostRepair


class CostVariance(SiteOwned):
    """The part of a repair's actual less estimate that has one cause, in whole smallest units."""

    repair = models.ForeignKey(CostRepair, on_delete=models.CASCADE, related_name="variances")
    month = models.DateField()
    cause = models.CharField(max_length=20)
    amount_minor = models.BigIntegerField()

    class Meta:
        ordering = ("repair", "cause")
        indexes = [
            models.Index(fields=("site", "month", "cause", "amount_minor"), name="cost_variance_month")
        ]
        constraints = [
            models.UniqueConstraint(fields=("repair", "cause"), name="cost_variance_one_for_a_cause")
        ]

    def __str__(self) -> str:
        return f"{self.cause} of {self.repair}"
