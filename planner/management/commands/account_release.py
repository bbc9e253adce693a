"""Sign somebody out everywhere; when asked, take a lost phone's one-time codes away."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from planner.models import User
from planner.services.one_time_codes import codes_remove
from planner.services.sessions import sessions_end


class Command(BaseCommand):
    """For a lost phone, and for whoever left a session open. See first that it is really them."""

    help = "End every session of a user, or of all; with --codes, take the user's one-time codes away."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Offer a user's name, or everybody."""
        who = parser.add_mutually_exclusive_group(required=True)
        who.add_argument("username", nargs="?", help="who")
        who.add_argument("--everybody", action="store_true", help="all users")
        parser.add_argument("--codes", action="store_true", help="take the one-time codes away as well")

    def handle(
        self, *_: Any, username: str | None = None, everybody: bool = False, codes: bool = False, **__: Any
    ) -> None:
        """End the sessions."""
        if everybody and codes:
            raise CommandError("Codes are taken away for one user at a time.")
        users = User.objects.all() if everybody else User.objects.filter(username=username)
        for user in users:
            (codes_remove if codes else sessions_end)(user=user)
        if not users:
            raise CommandError(f"There is no user {username}.")
        self.stdout.write(f"Signed out: {len(users)}.")
