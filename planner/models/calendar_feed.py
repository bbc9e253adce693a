"""Secret addresses from which calendars read."""

from django.conf import settings
from django.db import models

from planner.domain.feeds import FeedKind
from planner.models.base import SiteOwned, choices_of, one_of


class CalendarFeed(SiteOwned):
    """A user's feed of one kind; only the digest of its secret is kept."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    kind = models.CharField(max_length=12, choices=choices_of(FeedKind))
    secret_sha256 = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")
        constraints = [
            models.UniqueConstraint(
                fields=("user", "site", "kind"),
                condition=models.Q(revoked_at__isnull=True),
                name="calendar_feed_one_of_a_kind",
            ),
            one_of("kind", FeedKind, "calendar_feed_kind"),
        ]

    def __str__(self) -> str:
        return f"calendar feed {self.kind} of {self.user}"
