"""A repeating pattern of shifts, and the breaks inside each of them."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import SiteOwned
from planner.models.technician import Technician


class RosterPattern(SiteOwned):
    """Shifts of one technician that repeat by an RFC 5545 recurrence rule, in the site's wall time."""

    technician = models.ForeignKey(Technician, on_delete=models.CASCADE, related_name="patterns")
    recurrence = models.CharField(max_length=200, help_text="such as FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR")
    first_day = models.DateField()
    last_day = models.DateField(null=True, blank=True)
    starts_at = models.TimeField(help_text="wall time at the site")
    ends_at = models.TimeField(
        help_text="wall time at the site; the next day where it is not after the start"
    )

    class Meta:
        ordering = ("technician", "first_day")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_day__isnull=True) | models.Q(last_day__gte=models.F("first_day")),
                name="pattern_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.technician}: {self.recurrence} from {self.first_day}"


class PatternBreak(models.Model):
    """A break in each shift of a pattern, in minutes after the shift's start."""

    pattern = models.ForeignKey(RosterPattern, on_delete=models.CASCADE, related_name="breaks")
    after_minutes = models.PositiveSmallIntegerField(validators=[MaxValueValidator(1440)])
    minutes = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(240)])

    class Meta:
        ordering = ("pattern", "after_minutes")
        constraints = [
            models.UniqueConstraint(fields=("pattern", "after_minutes"), name="pattern_break_once"),
            models.CheckConstraint(condition=models.Q(minutes__gte=1), name="pattern_break_lasts"),
        ]

    def __str__(self) -> str:
        return f"{self.minutes} min after {self.after_minutes} min"
