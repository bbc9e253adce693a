"""The repair of one tyre."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.domain.states import WorkOrderState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.machine import Machine
from planner.models.route import Route
from planner.models.tyre import Tyre


class WorkOrder(SiteOwned):
    """One repair from arrival to final inspection, numbered on its site."""

    number = models.PositiveIntegerField()
    tyre = models.ForeignKey(Tyre, on_delete=models.PROTECT, related_name="work_orders")
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="work_orders"
    )
    route = models.ForeignKey(
        Route,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="work_orders",
        help_text="empty: the site's route for the zone and size",
    )
    state = models.CharField(
        max_length=12, choices=choices_of(WorkOrderState), default=WorkOrderState.RECEIVED
    )
    state_reason = models.CharField(max_length=300, blank=True)
    priority = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(100)])
    received_at = models.DateTimeField()
    released_at = models.DateTimeField(help_text="no stage before this time")
    needed_by = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("number",)
        indexes = [models.Index(fields=("site", "state", "needed_by"))]
        constraints = [
            models.UniqueConstraint(fields=("site", "number"), name="work_order_number_on_site"),
            models.CheckConstraint(
                condition=models.Q(priority__gte=1, priority__lte=100), name="work_order_priority_1_to_100"
            ),
            models.CheckConstraint(
                condition=models.Q(needed_by__gte=models.F("received_at")),
                name="work_order_needed_after_received",
            ),
            one_of("state", WorkOrderState, "work_order_state"),
        ]

    def __str__(self) -> str:
        return self.code

    @property
    def code(self) -> str:
        """The number as it is said and printed; also the job's id in a problem."""
        return f"WO-{self.number:04d}"
