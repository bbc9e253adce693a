"""Who approved the spend on a repair."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned
from planner.models.work_order import WorkOrder


class CostApproval(SiteOwned):
    """One person's approval of one estimate; above a limit two persons are needed."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="cost_approvals")
    approver = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    amount_minor = models.BigIntegerField(help_text="the estimate that was approved")
    approved_at = models.DateTimeField(auto_now_add=True)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("work_order", "pk")
        constraints = [
            models.UniqueConstraint(
                fields=("work_order", "approver", "amount_minor"), name="cost_approval_once_for_an_amount"
            )
        ]

    def __str__(self) -> str:
        return f"approval of {self.work_order} by {self.approver}"
