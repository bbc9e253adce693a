"""A file's import or export that a worker does."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from planner.domain.file_tasks import FileTaskKind
from planner.domain.states import PlanBuildState
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.sentence_field import SentenceField


class FileTask(SiteOwned):
    """One asking with its file, how far the worker has come, and what came of it.

    `told` holds an import's figures and faults; an export's file is `result_raw`. It goes after a week.
    """

    kind = models.CharField(max_length=20, choices=choices_of(FileTaskKind))
    state = models.CharField(max_length=12, choices=choices_of(PlanBuildState), default=PlanBuildState.QUEUED)
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    heard_at = models.DateTimeField(
        default=timezone.now, help_text="when a worker last told that it is at it, else when it was asked"
    )
    ended_at = models.DateTimeField(null=True, blank=True)
    cancel_requested = models.BooleanField(default=False)
    file_name = models.CharField(max_length=200, blank=True)
    file_raw = models.BinaryField(default=bytes, blank=True)
    options = models.JSONField(default=dict, blank=True)
    rows_done = models.PositiveIntegerField(default=0)
    told = models.JSONField(default=dict, blank=True)
    message = SentenceField(blank=True, help_text="why it failed")
    result_name = models.CharField(max_length=200, blank=True)
    result_raw = models.BinaryField(default=bytes, blank=True)

    class Meta:
        ordering = ("-asked_at", "-pk")
        constraints = [
            one_of("kind", FileTaskKind, "file_task_kind"),
            one_of("state", PlanBuildState, "file_task_state"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.pk}"
