"""A stored plan: a draft, or a numbered version that is frozen."""

from django.conf import settings
from django.db import models

from planner.domain.plan import PlanStatus
from planner.domain.states import PlanState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.plan_build import PlanBuild


class Plan(SiteOwned):
    """A verified plan with the very problem that it answers; `number` is given by publishing."""

    number = models.PositiveIntegerField(null=True, blank=True)
    state = models.CharField(max_length=12, choices=choices_of(PlanState), default=PlanState.DRAFT)
    build = models.OneToOneField(
        PlanBuild, on_delete=models.PROTECT, null=True, blank=True, related_name="plan"
    )
    based_on = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    horizon_start = models.DateTimeField()
    horizon_end = models.DateTimeField()
    problem_json = models.TextField()
    plan_json = models.TextField()
    problem_sha256 = models.CharField(max_length=64)
    verified_at = models.DateTimeField(help_text="only a plan with no breach is stored")
    status = models.CharField(max_length=12, choices=choices_of(PlanStatus))
    lateness = models.BigIntegerField()
    flow = models.BigIntegerField()
    bound = models.BigIntegerField()
    job_count = models.PositiveIntegerField()
    unplanned_count = models.PositiveIntegerField()
    not_entered = models.JSONField(
        default=list, blank=True, help_text="work that could not enter the problem, and why"
    )
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    published_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    published_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")
        constraints = [
            models.UniqueConstraint(fields=("site", "number"), name="plan_number_on_site"),
            models.UniqueConstraint(
                fields=("site",), condition=models.Q(state="published"), name="plan_one_published_on_site"
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=["draft", "dropped"], number__isnull=True)
                | models.Q(state__in=["published", "superseded"], number__isnull=False),
                name="plan_numbered_when_published",
            ),
            one_of("state", PlanState, "plan_state"),
            one_of("status", PlanStatus, "plan_status"),
        ]

    def __str__(self) -> str:
        return f"plan {self.number}" if self.number else f"draft {self.pk}"
