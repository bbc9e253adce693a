"""Open a site with its first administrator: `manage.py site_open`."""

import getpass
import sys
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import transaction

from planner.domain.errors import UserError
from planner.models import User
from planner.services.own_account import password_first
from planner.services.sites import site_open


class Command(BaseCommand):
    """The only way to a site on an empty service; its administrator does the rest on the pages."""

    help = "Open a site; its administrator is made where there is none of that name."

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Name the site and its administrator."""
        parser.add_argument("code", help="in addresses, such as ridge")
        parser.add_argument("name", help="to read, such as 'Ridge mine, tyre bay'")
        parser.add_argument("--time-zone", required=True, help="such as Australia/Perth")
        parser.add_argument("--currency", required=True, help="such as AUD")
        parser.add_argument("--administrator", required=True, help="the name with which they sign in")

    def handle(self, *_: Any, administrator: str = "", **told: Any) -> None:
        """Make both, or neither."""
        values = {name: str(told[name]) for name in ("code", "name", "time_zone", "currency")}
        try:
            with transaction.atomic():
                site = site_open(administrator=_user(administrator), **values)
        except UserError as fault:
            raise CommandError(str(fault)) from fault
        self.stdout.write(f"Opened {site}: {administrator} signs in and adds the rest at /at/{site.code}/.")


def _user(name: str) -> User:
    """The user, or a new one with the password from the terminal or from standard input."""
    found = User.objects.filter(username=name).first()
    if found is not None:
        return found
    asked = f"Password of {name}: "
    typed = getpass.getpass(asked) if sys.stdin.isatty() else sys.stdin.readline().rstrip("\n")
    user = User(username=name)
    password_first(user=user, password=typed)
    return user
