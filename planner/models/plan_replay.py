"""A plan replayed many times with durations that scatter."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from planner.models.base import SiteOwned
from planner.models.plan import Plan

_SHARE = [MinValueValidator(0.0), MaxValueValidator(1.0)]


class PlanReplay(SiteOwned):
    """How often a plan was replayed, and which stages scattered as measured on the site."""

    plan = models.OneToOneField(Plan, on_delete=models.CASCADE, related_name="replay")
    replays = models.PositiveIntegerField(validators=[MinValueValidator(1)])
    measured = models.JSONField(
        default=list, blank=True, help_text="names of the stages whose spread is the site's own"
    )
    replayed_at = models.DateTimeField()

    class Meta:
        ordering = ("-replayed_at",)

    def __str__(self) -> str:
        return f"replays of {self.plan}"


class PlanReplayPart(SiteOwned):
    """What one of several workers replayed of a plan; gone once the parts are together."""

    plan = models.ForeignKey(Plan, on_delete=models.CASCADE, related_name="replay_parts")
    part = models.PositiveSmallIntegerField()
    replays = models.PositiveIntegerField()
    jobs = models.JSONField(help_text="by job: the minutes at which it was done, what was held, unattended")
    measured = models.JSONField(default=list, blank=True)
    replayed_at = models.DateTimeField()

    class Meta:
        ordering = ("plan", "part")
        constraints = [models.UniqueConstraint(fields=("plan", "part"), name="plan_replay_part_once")]

    def __str__(self) -> str:
        return f"part {self.part} of the replays of {self.plan}"


class ReplayedJob(SiteOwned):
    """What the replays say of one job; no time where that many replays did not finish it."""

    replay = models.ForeignKey(PlanReplay, on_delete=models.CASCADE, related_name="jobs")
    job = models.CharField(max_length=40)
    in_time = models.FloatField(validators=_SHARE, help_text="share of replays ready when needed")
    unattended = models.FloatField(
        validators=_SHARE, help_text="share in which a cure outlasted those who could attend it"
    )
    held = models.FloatField(
        validators=_SHARE, default=0.0, help_text="share in which a stage began after its planned shift"
    )
    held_at = models.CharField(max_length=60, blank=True, help_text="the stage that most often was the first")
    p50_at = models.DateTimeField(null=True, blank=True)
    p90_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("replay", "pk")
        constraints = [
            models.UniqueConstraint(fields=("replay", "job"), name="replayed_job_once"),
            models.CheckConstraint(
                condition=models.Q(in_time__range=(0, 1), unattended__range=(0, 1), held__range=(0, 1)),
                name="replayed_job_shares",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job} in {self.replay}"
