"""Answers of the API that a repeated request gets again."""

from django.conf import settings
from django.db import models


class KeptAnswer(models.Model):
    """What a request with an idempotency key was answered, kept in the transaction of its own change."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=200)
    request_sha256 = models.CharField(max_length=64)
    made_at = models.DateTimeField(db_index=True)
    status = models.PositiveSmallIntegerField(default=0)
    body = models.TextField(blank=True)
    headers = models.JSONField(default=dict)

    class Meta:
        constraints = [models.UniqueConstraint(fields=("user", "key"), name="kept_answer_key_of_user")]

    def __str__(self) -> str:
        return f"answer to {self.key}"
