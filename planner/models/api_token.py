"""Tokens with which programs sign in to the API."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned


class ApiToken(SiteOwned):
    """A user's token for one site and some actions; only the digest of its secret is kept."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="api_tokens")
    name = models.CharField(max_length=80)
    secret_sha256 = models.CharField(max_length=64, unique=True, editable=False)
    actions = models.JSONField(help_text="what it may do, where its user may")
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    last_used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-pk")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(expires_at__gt=models.F("made_at")), name="api_token_expires_after_made"
            ),
        ]

    def __str__(self) -> str:
        return f"API token {self.name}"
