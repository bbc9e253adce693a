"""Loading the demo sites once, on whatever day it is."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction

from planner.domain.permissions import Role
from planner.models import Site, User
from planner.services.demo_site.accounts import accounts_load, outcomes_load
from planner.services.demo_site.approvals import approvals_load
from planner.services.demo_site.bay import bay_load
from planner.services.demo_site.cures import cure_limits_load, cures_load, finished_cure_load
from planner.services.demo_site.fleet import fleet_load
from planner.services.demo_site.past_repairs import past_repairs_load
from planner.services.demo_site.people import people_load
from planner.services.demo_site.routes import routes_load
from planner.services.demo_site.scene import Scene
from planner.services.demo_site.tables import Row, table_of_site, table_read
from planner.services.demo_site.work import work_load
from planner.services.nouns import noun_add
from planner.services.sites import site_open


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoUser:
    """Somebody who may sign in to a demo site."""

    username: str
    password: str
    role: str
    site: str


def demo_user_list() -> tuple[DemoUser, ...]:
    """The demo users, one for each role and one of another site."""
    names = {row["code"]: row["name"] for row in table_read("sites")}
    return tuple(
        DemoUser(
            username=row["username"], password=row["password"], role=row["role"], site=names[row["site"]]
        )
        for row in table_read("users")
    )


def demo_site_load(*, today: date) -> bool:
    """Load the demo sites with their work around `today`; False where a demo site is there already.

    The same day always gives the same site. All of it is loaded or nothing.
    """
    rows = table_read("sites")
    if Site.objects.filter(code__in=[row["code"] for row in rows]).exists():
        return False
    with transaction.atomic():
        for row in rows:
            _load(row, today)
    return True


def _load(row: Row, today: date) -> None:
    users = {each["username"]: _user(each) for each in table_of_site("users", row["code"])}
    roles = {each["role"]: users[each["username"]] for each in table_of_site("users", row["code"])}
    administrator = roles[Role.ADMINISTRATOR]
    site = site_open(
        administrator=administrator,
        code=row["code"],
        name=row["name"],
        time_zone=row["time_zone"],
        currency=row["currency"],
        cures_per_attendant=int(row["cures_per_attendant"]),
        power_limit_kw=Decimal(row["power_limit_kw"]),
        channel_limit=int(row["channel_limit"]),
    )
    for role, user in roles.items():
        if user != administrator:
            values = {"user": user, "role": role}
            noun_add(user=administrator, site=site, noun="sitemembership", values=values)
    scene = Scene(site=site, administrator=administrator, users=users, today=today)
    people_load(scene)
    bay_load(scene)
    routes_load(scene)
    cures_load(scene)
    cure_limits_load(scene)
    work_load(scene, roles[Role.SUPERVISOR])
    accounts_load(scene, roles.get(Role.ACCOUNTANT, administrator))
    approvals_load(scene, roles)
    past_repairs_load(scene, roles[Role.SUPERVISOR], roles.get(Role.ACCOUNTANT, administrator))
    finished_cure_load(scene, roles[Role.SUPERVISOR])
    fleet_load(scene, roles.get(Role.PLANNER, administrator))
    # Last, so that the past repairs rest on what was assumed when they were booked.
    outcomes_load(scene)


def _user(row: Row) -> User:
    return User.objects.create_user(
        username=row["username"],
        password=row["password"],
        # A name that no mail can reach (RFC 2606).
        email=f"{row['username']}@{row['site']}.example",
        first_name=row["first_name"],
        last_name=row["last_name"],
        is_staff=row["role"] == Role.ADMINISTRATOR,
    )
