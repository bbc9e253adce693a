"""The site's cure chart: the maker's minutes, line by line."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import SiteOwned
from planner.models.material import Material


class CureChartLine(SiteOwned):
    """Timed minutes of one material on one kind of set at one thickness."""

    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="chart_lines")
    set_kind = models.CharField(max_length=40)
    thickness_mm = models.DecimalField(
        max_digits=5, decimal_places=1, validators=[MinValueValidator(1), MaxValueValidator(500)]
    )
    timed_min = models.PositiveIntegerField(validators=[MinValueValidator(1), MaxValueValidator(2880)])
    source = models.CharField(max_length=120, help_text="the maker's chart and its edition")

    class Meta:
        ordering = ("material", "set_kind", "thickness_mm")
        constraints = [
            models.UniqueConstraint(
                fields=("material", "set_kind", "thickness_mm"), name="cure_chart_line_thickness"
            )
        ]

    def __str__(self) -> str:
        return f"{self.material} on {self.set_kind}, {self.thickness_mm} mm: {self.timed_min} min"
