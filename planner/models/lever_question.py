"""What a little more of something would buy: a question about a plan, and one trial for each lever."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from planner.domain.states import PlanBuildState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.plan import Plan


class LeverQuestion(SiteOwned):
    """One asking; `baseline_json` is the plan of the bay as it is, searched as long as each lever."""

    plan = models.ForeignKey(Plan, on_delete=models.CASCADE, related_name="lever_questions")
    state = models.CharField(max_length=12, choices=choices_of(PlanBuildState), default=PlanBuildState.QUEUED)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    heard_at = models.DateTimeField(
        default=timezone.now, help_text="when a worker last told that it is at it, else when it was asked"
    )
    seconds = models.PositiveSmallIntegerField(
        default=8, validators=[MinValueValidator(1), MaxValueValidator(120)], help_text="for each lever"
    )
    cancel_requested = models.BooleanField(default=False)
    baseline_json = models.TextField(blank=True)

    class Meta:
        ordering = ("-asked_at", "-pk")
        constraints = [one_of("state", PlanBuildState, "lever_question_state")]

    def __str__(self) -> str:
        return f"what would help {self.plan}"


class LeverTrialRow(SiteOwned):
    """One lever's trial; gains are beside searching on without any change."""

    question = models.ForeignKey(LeverQuestion, on_delete=models.CASCADE, related_name="trials")
    lever = models.CharField(max_length=80)
    words = models.CharField(max_length=200)
    state = models.CharField(max_length=12, choices=choices_of(PlanBuildState), default=PlanBuildState.QUEUED)
    lateness = models.BigIntegerField(null=True, blank=True)
    tyres_in_time = models.PositiveIntegerField(null=True, blank=True)
    lateness_gain = models.BigIntegerField(null=True, blank=True)
    tyres_gain = models.IntegerField(null=True, blank=True)
    gap = models.BigIntegerField(null=True, blank=True, help_text="what its own plan may still lack")
    within_noise = models.BooleanField(default=False)

    class Meta:
        ordering = ("question", "pk")
        constraints = [
            models.UniqueConstraint(fields=("question", "lever"), name="lever_tried_once"),
            one_of("state", PlanBuildState, "lever_trial_state"),
        ]

    def __str__(self) -> str:
        return self.words
