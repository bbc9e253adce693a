"""Who did what, when and why: written once, chained, never changed."""

from typing import Any

from django.conf import settings
from django.db import models

from planner.domain.errors import ConflictError
from planner.domain.sentences import _
from planner.models.base import WrittenOnceRows

_STAYS = _("audit events are only ever added")


class AuditEvent(models.Model):
    """One write; `hash` covers its own words and the hash of the event before it on the site."""

    site = models.ForeignKey("planner.Site", on_delete=models.PROTECT, related_name="+")
    sequence = models.PositiveBigIntegerField()
    at = models.DateTimeField()
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        related_name="+",
        help_text="empty: the program itself",
    )
    action = models.CharField(max_length=60)
    noun = models.CharField(max_length=40)
    noun_id = models.CharField(max_length=40)
    what = models.CharField(max_length=300)
    why = models.CharField(max_length=300, blank=True)
    details = models.JSONField(default=dict)
    previous_hash = models.CharField(max_length=64, blank=True)
    hash = models.CharField(max_length=64)

    objects = WrittenOnceRows.as_manager()

    class Meta:
        ordering = ("-sequence",)
        indexes = [models.Index(fields=("site", "noun", "noun_id"))]
        constraints = [
            models.UniqueConstraint(fields=("site", "sequence"), name="audit_event_sequence_on_site"),
            models.UniqueConstraint(fields=("site", "previous_hash"), name="audit_event_one_after_another"),
        ]

    def __str__(self) -> str:
        return f"{self.sequence} {self.what}"

    def save(self, *args: Any, **named: Any) -> None:
        """Add the event; ConflictError where it is there already. A trigger says the same to SQL."""
        if not self._state.adding:
            raise ConflictError(_STAYS)
        super().save(*args, **named)

    def delete(self, *_args: Any, **_named: Any) -> tuple[int, dict[str, int]]:
        """Refuse: an event is never removed."""
        raise ConflictError(_STAYS)
