"""A mine site with its tyre bay and the bay's rules."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class Site(models.Model):
    """One bay; everything else on file belongs to a site."""

    code = models.SlugField(max_length=40, unique=True)
    name = models.CharField(max_length=120)
    time_zone = models.CharField(max_length=64)
    currency = models.CharField(max_length=3)
    language = models.CharField(max_length=10, default="en")
    temperature_unit = models.CharField(max_length=4, default="°C")
    pressure_unit = models.CharField(max_length=4, default="kPa")
    grid_minutes = models.PositiveSmallIntegerField(
        default=5, validators=[MinValueValidator(1), MaxValueValidator(60)]
    )
    cures_per_attendant = models.PositiveSmallIntegerField(default=2, validators=[MinValueValidator(1)])
    watch_skill = models.SlugField(max_length=40, default="cure")
    attendant_may_work = models.BooleanField(default=True)
    watch_through_breaks = models.BooleanField(default=False)
    watch_cool_down = models.BooleanField(default=True)
    handover_allowed = models.BooleanField(default=True)
    power_limit_kw = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    channel_limit = models.PositiveSmallIntegerField(null=True, blank=True)
    horizon_days = models.PositiveSmallIntegerField(
        default=7, validators=[MinValueValidator(1), MaxValueValidator(60)]
    )
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ("name",)
        constraints = [
            models.CheckConstraint(
                condition=models.Q(grid_minutes__gte=1, grid_minutes__lte=60), name="site_grid_1_to_60"
            ),
            models.CheckConstraint(
                condition=models.Q(cures_per_attendant__gte=1), name="site_one_cure_each_at_least"
            ),
            models.CheckConstraint(
                condition=models.Q(temperature_unit__in=["°C", "°F"]), name="site_temperature_unit"
            ),
            models.CheckConstraint(
                condition=models.Q(pressure_unit__in=["kPa", "psi", "bar"]), name="site_pressure_unit"
            ),
        ]

    def __str__(self) -> str:
        return self.name
