"""Routes: the stages of a repair by damage zone and size class, with their minutes."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.domain.injury import InjuryMeasure, Zone
from planner.domain.work import StageKind
from planner.models.base import NamedOnSite, choices_of, one_of
from planner.models.position import PositionKind
from planner.models.size_class import SizeClass
from planner.models.skill import Skill


class Route(NamedOnSite):
    """The way of one kind of repair through the bay."""

    zone = models.CharField(max_length=12, choices=choices_of(Zone))
    size_class = models.ForeignKey(
        SizeClass, on_delete=models.PROTECT, null=True, blank=True, related_name="routes"
    )
    active = models.BooleanField(default=True)

    class Meta:
        ordering = ("code",)
        constraints = [
            models.UniqueConstraint(fields=("site", "code"), name="route_code_on_site"),
            models.UniqueConstraint(
                fields=("site", "zone", "size_class"),
                condition=models.Q(active=True),
                name="route_one_for_zone_and_class",
            ),
            models.UniqueConstraint(
                fields=("site", "zone"),
                condition=models.Q(active=True, size_class__isnull=True),
                name="route_one_for_zone_and_any_size",
            ),
            one_of("zone", Zone, "route_zone"),
        ]


class RouteStage(models.Model):
    """One stage: base minutes, and minutes for each unit of what the damage measures."""

    route = models.ForeignKey(Route, on_delete=models.CASCADE, related_name="stages")
    sequence = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=60)
    kind = models.CharField(max_length=12, choices=choices_of(StageKind))
    base_minutes = models.PositiveIntegerField(validators=[MaxValueValidator(20160)])
    minutes_per_unit = models.DecimalField(
        max_digits=8, decimal_places=3, default=0, validators=[MinValueValidator(0)]
    )
    unit = models.CharField(max_length=12, choices=choices_of(InjuryMeasure), default=InjuryMeasure.NOTHING)
    largest_units = models.PositiveIntegerField(
        null=True, blank=True, help_text="beyond this the rule is past its chart: planning warns"
    )
    crew = models.PositiveSmallIntegerField(default=0)
    skill = models.ForeignKey(Skill, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    pausable = models.BooleanField(default=False)
    block = models.BooleanField(default=False, help_text="part of the heat block")
    place = models.ForeignKey(PositionKind, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    min_wait_after = models.PositiveIntegerField(default=0, help_text="[min]")
    max_wait_after = models.PositiveIntegerField(null=True, blank=True, help_text="[min]")
    caution = models.CharField(max_length=300, blank=True, help_text="shown where the stage is done")

    class Meta:
        ordering = ("route", "sequence")
        constraints = [
            models.UniqueConstraint(fields=("route", "sequence"), name="route_stage_place"),
            models.UniqueConstraint(fields=("route", "name"), name="route_stage_name"),
            models.CheckConstraint(
                condition=models.Q(kind="hands_on", crew__gte=1, skill__isnull=False)
                | (~models.Q(kind="hands_on") & models.Q(crew=0, skill__isnull=True, pausable=False)),
                name="route_stage_crew_by_kind",
            ),
            models.CheckConstraint(
                condition=models.Q(max_wait_after__isnull=True)
                | models.Q(max_wait_after__gte=models.F("min_wait_after")),
                name="route_stage_waits_in_order",
            ),
            models.CheckConstraint(
                condition=models.Q(base_minutes__gte=1) | models.Q(minutes_per_unit__gt=0),
                name="route_stage_takes_time",
            ),
            one_of("kind", StageKind, "route_stage_kind"),
            one_of("unit", InjuryMeasure, "route_stage_unit"),
        ]

    def __str__(self) -> str:
        return f"{self.sequence} {self.name}"
