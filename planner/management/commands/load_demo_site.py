"""Load the demo sites and name their users: `manage.py load_demo_site`."""

from datetime import date
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from planner.services.demo_site import demo_site_load, demo_user_list


class Command(BaseCommand):
    """Invented sites with their work around today; a second load keeps what is there."""

    help = "Load the demo sites, once, and print their users."

    def add_arguments(self, parser: CommandParser) -> None:
        """Offer another day to load them for."""
        parser.add_argument("--today", type=date.fromisoformat, help="the day to load for (default: today)")

    def handle(self, *_: Any, today: date | None = None, **__: Any) -> None:
        """Load where nothing is there, then name the users."""
        loaded = demo_site_load(today=today or timezone.localdate())
        self.stdout.write("The demo site is loaded." if loaded else "The demo site is there already.")
        for user in demo_user_list():
            self.stdout.write(f"  {user.username:<8} {user.password:<16} {user.role} of {user.site}")
