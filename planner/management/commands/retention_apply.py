"""Remove what has served its time: `manage.py retention_apply`."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from planner.services.retention import Retention, retention_apply


class Command(BaseCommand):
    """The same that the clock of `beat` does each night."""

    help = "Remove old drafts, builds, deliveries, alarms, tokens and sessions, by the KEEP_… settings."

    def handle(self, *_: Any, **__: Any) -> None:
        """Remove, and say how many of each."""
        for name, count in retention_apply(keep=Retention(**settings.RETENTION)).items():
            self.stdout.write(f"{name}: {count} removed")
