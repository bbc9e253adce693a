"""How somebody wants to be told."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned


class NoticeChoice(SiteOwned):
    """Whether notices of a site reach the user by e-mail too; without a row they do."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    by_mail = models.BooleanField(default=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=("user", "site"), name="notice_choice_one_each")]

    def __str__(self) -> str:
        return f"notices of {self.user}"
