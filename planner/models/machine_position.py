"""Where on a machine a tyre sits."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.models.base import SiteOwned
from planner.models.machine import Machine


class MachinePosition(SiteOwned):
    """A tyre position of a machine; `tyre_size` where it differs from the machine's own."""

    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="positions")
    code = models.SlugField(max_length=20, help_text="such as 1 or front-left")
    name = models.CharField(max_length=60)
    sequence = models.PositiveSmallIntegerField(validators=[MinValueValidator(1)])
    tyre_size = models.CharField(max_length=24, blank=True, help_text="empty: as the machine's")

    class Meta:
        ordering = ("machine", "sequence")
        constraints = [
            models.UniqueConstraint(fields=("machine", "code"), name="machine_position_once"),
            models.UniqueConstraint(fields=("machine", "sequence"), name="machine_position_in_order"),
        ]

    def __str__(self) -> str:
        return f"{self.name} of {self.machine}"

    @property
    def size(self) -> str:
        """The size that it takes, in normal form; empty where nobody said."""
        return self.tyre_size or self.machine.tyre_size
