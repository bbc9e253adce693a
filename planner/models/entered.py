"""What somebody entered into the books for a reason."""

from django.conf import settings
from django.db import models

from planner.models.base import SiteOwned


class Entered(SiteOwned):
    """A row of the books with who entered it last, typed or by a file, and why."""

    author = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    reason = models.CharField(max_length=300, blank=True)

    class Meta:
        abstract = True
