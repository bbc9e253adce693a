"""The parts of a heater set."""

from django.db import models

from planner.domain.heater_parts import PartKind
from planner.domain.states import PartState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.heater_set import HeaterSet


class HeaterSetPart(SiteOwned):
    """One part with its state and the day on which its next inspection is due."""

    heater_set = models.ForeignKey(HeaterSet, on_delete=models.CASCADE, related_name="parts")
    kind = models.CharField(max_length=20, choices=choices_of(PartKind))
    serial = models.CharField(max_length=40, blank=True)
    state = models.CharField(max_length=12, choices=choices_of(PartState), default=PartState.FIT)
    inspection_due_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("heater_set", "kind")
        constraints = [
            models.UniqueConstraint(fields=("heater_set", "kind"), name="part_one_of_a_kind_in_a_set"),
            one_of("kind", PartKind, "part_kind"),
            one_of("state", PartState, "part_state"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.heater_set}"
