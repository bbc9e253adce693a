"""Assumptions as dated versions: proposed by somebody for a reason, and accepted or not."""

from django.conf import settings
from django.db import models

from planner.costing.assumptions import Assumption
from planner.models.base import SiteOwned

PROPOSED, ACCEPTED, REFUSED = "proposed", "accepted", "refused"


class CostAssumption(SiteOwned):
    """One version of one assumption; an accepted one is never changed, only followed by another."""

    name = models.CharField(max_length=60, choices=[(name.value, name.value) for name in Assumption])
    value = models.DecimalField(max_digits=16, decimal_places=6)
    effective_from = models.DateField()
    reason = models.CharField(max_length=300)
    author = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    proposed_at = models.DateTimeField(auto_now_add=True)
    state = models.CharField(
        max_length=10,
        choices=[(state, state) for state in (PROPOSED, ACCEPTED, REFUSED)],
        default=PROPOSED,
    )
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    decided_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("name", "-effective_from", "-pk")
        constraints = [
            models.UniqueConstraint(
                fields=("site", "name", "effective_from"),
                condition=models.Q(state=ACCEPTED),
                name="cost_assumption_one_accepted_from_a_day",
            ),
            models.CheckConstraint(
                condition=models.Q(state=PROPOSED, decided_at__isnull=True)
                | models.Q(state__in=[ACCEPTED, REFUSED], decided_at__isnull=False),
                name="cost_assumption_decided_when_decided",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} from {self.effective_from}"
