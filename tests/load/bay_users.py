"""The bay and the signed-in users of a load run; imported once Django is set up."""

from dataclasses import dataclass

from django.test import Client

from planner.domain.errors import ConflictError
from planner.models import User
from planner.services.plan_builds import plan_build_start
from tests.lib.mine import Mine, at, mine_equipped

TYRES = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class BayUsers:
    """A mine, and each user's role with the key of a session."""

    mine: Mine
    sessions: list[tuple[str, str]]


def bay_open(users: int, roles: tuple[str, ...]) -> BayUsers:
    """A mine with tyres to plan and `users` people, spread over the roles."""
    mine = mine_equipped()
    for number in range(TYRES):
        mine.order(f"A{number}")
    sessions = []
    for number in range(users):
        role = roles[number % len(roles)]
        user = User.objects.create_user(f"{role}-{number}")
        mine.add("sitemembership", user=user, role=role)
        client = Client()
        client.force_login(user)
        sessions.append((role, client.cookies["sessionid"].value))
    return BayUsers(mine=mine, sessions=sessions)


def plan_ask(bay: BayUsers) -> None:
    """Ask for another plan, unless one is in the making."""
    try:
        plan_build_start(
            user=bay.mine.supervisor, site=bay.mine.site, start=at(6), end=at(18, days=3), seconds=20
        )
    except ConflictError:
        return
