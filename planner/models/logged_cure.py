"""A finished cure as its logger saw it, how it was judged, and what a person decided."""

from django.conf import settings
from django.db import models

from planner.domain.cure_verdict import CureVerdict
from planner.models.base import SiteOwned, WrittenOnce, choices_of, one_of
from planner.models.damage import Damage
from planner.models.heater_set import HeaterSet


class LoggerColumns(SiteOwned):
    """Which column of a logger's files is what, remembered by the logger's name."""

    logger = models.CharField(max_length=60)
    columns = models.JSONField()

    class Meta:
        ordering = ("logger",)
        constraints = [models.UniqueConstraint(fields=("site", "logger"), name="logger_columns_on_site")]

    def __str__(self) -> str:
        return self.logger


class LoggedCure(WrittenOnce):
    """The file itself, how it was read, and the verdict; written once."""

    damage = models.ForeignKey(Damage, on_delete=models.PROTECT, related_name="logged_cures")
    heater_set = models.ForeignKey(
        HeaterSet, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    file_name = models.CharField(max_length=200)
    file_sha256 = models.CharField(max_length=64)
    file_raw = models.BinaryField()
    columns = models.JSONField()
    plan = models.JSONField()
    verdict = models.CharField(max_length=20, choices=choices_of(CureVerdict))
    judgement = models.JSONField()
    limits = models.JSONField(default=list, help_text="each with its source, as they held then")
    trace = models.JSONField(null=True, blank=True, help_text="the curves, thinned for a drawing")
    by_hand = models.BooleanField(default=False, help_text="read from gauges and typed")
    imported_at = models.DateTimeField()
    imported_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("imported_at", "pk")
        constraints = [
            models.UniqueConstraint(fields=("damage", "file_sha256"), name="logged_cure_once"),
            one_of("verdict", CureVerdict, "logged_cure_verdict"),
        ]

    def __str__(self) -> str:
        return f"cure log {self.file_name} of {self.damage.tyre}"


class CureDecision(WrittenOnce):
    """What a person decided on a logged cure, signed; a correction is the next number, nothing changes."""

    logged_cure = models.ForeignKey(LoggedCure, on_delete=models.PROTECT, related_name="decisions")
    number = models.PositiveIntegerField()
    accepted = models.BooleanField()
    reason = models.CharField(max_length=300)
    signed_at = models.DateTimeField()
    signed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("logged_cure", "number")
        constraints = [models.UniqueConstraint(fields=("logged_cure", "number"), name="cure_decision_number")]

    def __str__(self) -> str:
        return f"decision {self.number} on {self.logged_cure}: {'accepted' if self.accepted else 'rejected'}"
