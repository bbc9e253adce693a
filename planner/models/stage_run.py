"""A stage as it is really done."""

from django.db import models

from planner.domain.states import StageRunState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.damage import Damage
from planner.models.heater_set import HeaterSet
from planner.models.plan import Plan
from planner.models.position import Position
from planner.models.technician import Technician
from planner.models.work_order import WorkOrder


class StageRun(SiteOwned):
    """Who really does which stage of a work order, when, where and on which set."""

    work_order = models.ForeignKey(WorkOrder, on_delete=models.PROTECT, related_name="stage_runs")
    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="stage_runs")
    sequence = models.PositiveSmallIntegerField(help_text="of the stage in its route")
    name = models.CharField(max_length=60)
    state = models.CharField(max_length=12, choices=choices_of(StageRunState), default=StageRunState.RUNNING)
    plan = models.ForeignKey(Plan, on_delete=models.PROTECT, null=True, blank=True, related_name="stage_runs")
    technicians = models.ManyToManyField(Technician, blank=True, related_name="stage_runs")
    position = models.ForeignKey(Position, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    heater_set = models.ForeignKey(
        HeaterSet, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    started_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ("work_order", "damage", "sequence")
        constraints = [
            models.UniqueConstraint(fields=("damage", "sequence"), name="stage_run_once"),
            models.CheckConstraint(
                condition=models.Q(state="running", ended_at__isnull=True)
                | models.Q(state__in=["done", "stopped"], ended_at__gte=models.F("started_at")),
                name="stage_run_ended_when_over",
            ),
            one_of("state", StageRunState, "stage_run_state"),
        ]

    def __str__(self) -> str:
        return f"{self.name} of {self.work_order}"
