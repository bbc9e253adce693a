"""What the repair of one work order was estimated to cost and did cost."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.work_order import WorkOrder


class CostRepair(SiteOwned):
    """Both sheets of a repair; amounts are whole smallest units of the site's currency, so sums are exact.

    `month` is the first day of the month in which the actual was booked; empty while the repair goes on.
    """

    work_order = models.OneToOneField(WorkOrder, on_delete=models.PROTECT, related_name="cost")
    month = models.DateField(null=True, blank=True)
    estimate_minor = models.BigIntegerField(default=0)
    actual_minor = models.BigIntegerField(default=0)
    avoided_minor = models.BigIntegerField(default=0, help_text="price of the new tyre not bought")
    failed = models.BooleanField(default=False)
    hours_gained = models.PositiveIntegerField(default=0, help_text="expected running hours gained [h]")
    estimate_lines = models.JSONField(default=list, blank=True)
    actual_lines = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ("work_order",)
        indexes = [
            models.Index(
                fields=(
                    "site",
                    "month",
                    "failed",
                    "estimate_minor",
                    "actual_minor",
                    "avoided_minor",
                    "hours_gained",
                ),
                name="cost_repair_month",
            )
        ]

    def __str__(self) -> str:
        return f"cost of {self.work_order}"
