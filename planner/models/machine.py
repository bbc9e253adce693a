"""The fleet."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import NamedOnSite


class Machine(NamedOnSite):
    """A machine on tyres; `priority` is the weight of one minute of it standing."""

    kind = models.CharField(max_length=60)
    tyre_size = models.CharField(max_length=24, blank=True)
    priority = models.PositiveSmallIntegerField(
        default=10, validators=[MinValueValidator(1), MaxValueValidator(100)]
    )
    hours_run = models.PositiveIntegerField(default=0, help_text="of the machine's own meter [h]")
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("code",)
        constraints = [
            models.UniqueConstraint(fields=("site", "code"), name="machine_code_on_site"),
            models.CheckConstraint(
                condition=models.Q(priority__gte=1, priority__lte=100), name="machine_priority_1_to_100"
            ),
        ]
