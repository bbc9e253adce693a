"""What a machine's hour meter said."""

from django.db import models

from planner.models.base import SiteOwned
from planner.models.machine import Machine


class MachineReading(SiteOwned):
    """One reading of one machine's meter."""

    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="readings")
    read_at = models.DateTimeField()
    hours = models.PositiveIntegerField(help_text="of the machine's own meter [h]")

    class Meta:
        ordering = ("machine", "-read_at")
        constraints = [
            models.UniqueConstraint(fields=("machine", "read_at"), name="machine_reading_once"),
        ]

    def __str__(self) -> str:
        return f"{self.hours} h of {self.machine}"
