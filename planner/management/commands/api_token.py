"""Make an API token on the server: `manage.py api_token USER SITE NAME --may site_read --days 90`."""

from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from planner.domain.errors import UserError
from planner.domain.permissions import Action
from planner.selectors.access import site_get
from planner.selectors.nouns import User
from planner.services.api_tokens import api_token_make


class Command(BaseCommand):
    """For whoever may run commands here anyway; people who sign in make theirs over the API."""

    help = "Make an API token of a user for one site, and print its secret, which is told this once."

    def add_arguments(self, parser: CommandParser) -> None:
        """Whose token, for what, and for how long."""
        parser.add_argument("user", help="the user name")
        parser.add_argument("site", help="the site's code")
        parser.add_argument("name", help="what the token is for, such as 'fleet system'")
        parser.add_argument("--may", action="append", choices=[each.value for each in Action], required=True)
        parser.add_argument("--days", type=int, default=90, help="until it expires (default: 90)")

    def handle(self, *_: Any, **asked: Any) -> None:
        """Make it, or say what is wrong."""
        user = User.objects.filter(username=asked["user"]).first()
        if user is None:
            raise CommandError(f"there is no user {asked['user']}")
        try:
            _token, secret = api_token_make(
                user=user,
                site=site_get(user=user, code=asked["site"]),
                name=asked["name"],
                actions=[Action(each) for each in asked["may"]],
                expires_at=timezone.now() + timedelta(days=asked["days"]),
            )
        except UserError as fault:
            raise CommandError(str(fault)) from fault
        self.stdout.write(secret)
