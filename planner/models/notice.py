"""Something that a user is told."""

from django.conf import settings
from django.db import models

from planner.domain.notices import NoticeKind
from planner.models.base import SiteOwned, choices_of, one_of
from planner.models.work_order import WorkOrder


class Notice(SiteOwned):
    """One thing told to one user, once: `key` names the event; e-mail follows where they want it."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="notices")
    kind = models.CharField(max_length=12, choices=choices_of(NoticeKind))
    key = models.CharField(max_length=120)
    title = models.CharField(max_length=200)
    words = models.CharField(max_length=600, blank=True)
    work_order = models.ForeignKey(
        WorkOrder, on_delete=models.CASCADE, null=True, blank=True, related_name="notices"
    )
    made_at = models.DateTimeField()
    read_at = models.DateTimeField(null=True, blank=True)
    mailed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")
        indexes = [models.Index(fields=("user", "site", "read_at"))]
        constraints = [
            models.UniqueConstraint(fields=("user", "key"), name="notice_once"),
            one_of("kind", NoticeKind, "notice_kind"),
        ]

    def __str__(self) -> str:
        return self.title
