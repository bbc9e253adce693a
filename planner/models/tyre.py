"""A tyre by its serial number."""

from django.core.validators import MinValueValidator
from django.db import models

from planner.domain.states import TyreState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.machine import Machine


class Tyre(SiteOwned):
    """A tyre with its size as read and as written, its tread and its hours."""

    serial = models.CharField(max_length=40)
    size = models.CharField(max_length=24, help_text="the normal form, such as 27.00R49")
    size_as_written = models.CharField(max_length=60)
    ply_rating = models.PositiveSmallIntegerField(null=True, blank=True)
    star_rating = models.PositiveSmallIntegerField(null=True, blank=True)
    tread_code = models.CharField(max_length=8, blank=True, help_text="such as E-4 or L-5")
    maker = models.CharField(max_length=60, blank=True)
    pattern = models.CharField(max_length=60, blank=True)
    tread_depth_mm = models.DecimalField(
        max_digits=5, decimal_places=1, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    tread_depth_new_mm = models.DecimalField(
        max_digits=5, decimal_places=1, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    hours_run = models.PositiveIntegerField(default=0, help_text="[h]")
    distance_run_km = models.PositiveIntegerField(default=0, help_text="[km]")
    made_on = models.DateField(null=True, blank=True)
    repairs_before = models.PositiveSmallIntegerField(
        default=0, help_text="repairs before the first record here"
    )
    state = models.CharField(max_length=16, choices=choices_of(TyreState), default=TyreState.OFF_MACHINE)
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="tyres"
    )
    machine_position = models.CharField(max_length=20, blank=True, help_text="such as 1 or left front")

    class Meta:
        ordering = ("serial",)
        constraints = [
            models.UniqueConstraint(fields=("site", "serial"), name="tyre_serial_on_site"),
            models.CheckConstraint(
                condition=models.Q(tread_depth_mm__isnull=True)
                | models.Q(tread_depth_new_mm__isnull=True)
                | models.Q(tread_depth_mm__lte=models.F("tread_depth_new_mm")),
                name="tyre_tread_at_most_as_new",
            ),
            models.UniqueConstraint(
                fields=("machine", "machine_position"),
                condition=models.Q(state="fitted"),
                name="tyre_one_on_a_machine_position",
            ),
            one_of("state", TyreState, "tyre_state"),
        ]

    def __str__(self) -> str:
        return f"{self.serial} ({self.size})"
