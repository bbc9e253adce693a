"""The building of a plan by a worker."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.domain.states import PlanBuildState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.sentence_field import SentenceField


class PlanBuild(SiteOwned):
    """One request for a plan with its progress; `cancel_requested` keeps the best so far."""

    state = models.CharField(max_length=12, choices=choices_of(PlanBuildState), default=PlanBuildState.QUEUED)
    requested_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    requested_at = models.DateTimeField()
    horizon_start = models.DateTimeField()
    horizon_end = models.DateTimeField()
    seconds = models.PositiveSmallIntegerField(
        default=30, validators=[MinValueValidator(1), MaxValueValidator(3600)]
    )
    seed = models.PositiveIntegerField(default=0)
    stability = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        validators=[MaxValueValidator(100)],
        help_text="around the published plan: what a moved minute costs, in hundredths of a late one",
    )
    phase = models.CharField(max_length=60, blank=True)
    lateness = models.BigIntegerField(null=True, blank=True)
    flow = models.BigIntegerField(null=True, blank=True)
    bound = models.BigIntegerField(default=0)
    weight = models.PositiveIntegerField(
        default=0, help_text="of all tyres together; 0 until the site is read"
    )
    elapsed_seconds = models.FloatField(default=0)
    progress_at = models.DateTimeField(null=True, blank=True)
    curve = models.JSONField(default=list, blank=True, help_text="[seconds, lateness, bound] as they came")
    cancel_requested = models.BooleanField(default=False)
    message = SentenceField(blank=True, help_text="what went wrong, or what the site should know")
    started_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-requested_at", "-pk")
        constraints = [
            models.UniqueConstraint(
                fields=("site",),
                condition=models.Q(state__in=["queued", "running"]),
                name="plan_build_one_at_a_time",
            ),
            models.CheckConstraint(
                condition=models.Q(horizon_end__gt=models.F("horizon_start")),
                name="plan_build_ends_after_it_starts",
            ),
            one_of("state", PlanBuildState, "plan_build_state"),
        ]

    def __str__(self) -> str:
        return f"plan build {self.pk} ({self.state})"
