"""What the stories share: the demo site around today, its people, two screens, a page without barriers."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.db import connection
from django.utils import timezone
from playwright.sync_api import Page, expect

from planner.models import Plan, PlanBuild, Shift, Site, Technician, User
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plans import plan_publish
from tests.lib.browser import axe_violations, picture_take

# A loaded machine takes its time: a story fails by what never comes, not by what comes late.
expect.set_options(timeout=30_000)

SCREENS = {"desktop": (1920, 1080), "tablet": (1024, 768)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Demo:
    """The demo site with its users by name."""

    site: Site
    users: dict[str, User]

    @property
    def zone(self) -> ZoneInfo:
        """The site's time zone."""
        return ZoneInfo(self.site.time_zone)

    def plan(self, seconds: int = 1) -> Plan:
        """A draft of a week from this morning's midnight on, built as the worker builds it."""
        zone = ZoneInfo(self.site.time_zone)
        start = datetime.combine(timezone.now().astimezone(zone).date(), time(), tzinfo=zone)
        build = plan_build_start(
            user=self.users["silas"],
            site=self.site,
            start=start,
            end=start + timedelta(days=7),
            seconds=seconds,
        )
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None, PlanBuild.objects.get(pk=build.pk).message
        return plan

    def published(self) -> Plan:
        """The same, published."""
        return plan_publish(user=self.users["silas"], plan=self.plan(), expected_number=None)

    def technician_with_work(self, plan: Plan) -> User:
        """Give the technician's account to somebody who has work today and may attend, weekends included."""
        tove = self.users["tove"]
        Technician.objects.filter(user=tove).update(user=None)
        zone = ZoneInfo(self.site.time_zone)
        day = timezone.now().astimezone(zone).date()
        on_shift = Shift.objects.filter(site=self.site, day=day).values("technician")
        somebody = Technician.objects.filter(pk__in=on_shift, skills__code=self.site.watch_skill).order_by(
            "code"
        )
        found = next((each for each in somebody if f'"{each.code}"' in plan.plan_json), None)
        if found is None:
            pytest.skip("nobody of the demo site is on shift today")
        found.user = tove
        found.save()
        return tove

    def attendant(self, but: User | None = None) -> Technician:
        """Somebody who may attend a cure, whoever is on shift at this hour; not `but`."""
        skilled = Technician.objects.filter(site=self.site, active=True, skills__code=self.site.watch_skill)
        return skilled.exclude(user=but).order_by("code")[0] if but else skilled.order_by("code")[0]


@pytest.fixture
def demo(demo_loaded: Callable[[date], None]) -> Demo:
    """The demo site, loaded for today."""
    demo_loaded(timezone.now().astimezone(ZoneInfo("Australia/Perth")).date())
    return Demo(
        site=Site.objects.get(code="halfmoon"), users={user.username: user for user in User.objects.all()}
    )


@pytest.fixture
def shown(watched_page: Page) -> Callable[[str], None]:
    """Assert that the page as it is now has no barrier, at a desk and on a tablet, and keep both pictures.

    The story itself is walked on the tablet, where less is in sight.
    """

    def _resize(screen: str) -> None:
        width, height = SCREENS[screen]
        watched_page.set_viewport_size({"width": width, "height": height})

    def _shown(name: str) -> None:
        for screen in SCREENS:
            _resize(screen)
            assert axe_violations(watched_page) == []
            picture_take(watched_page, f"{name}-{screen}")

    _resize("tablet")
    return _shown


@contextmanager
def beside(work: Callable[[], object]) -> Iterator[None]:
    """Do some work in a thread, as a worker beside the web server does."""

    def _work() -> None:
        try:
            work()
        finally:
            connection.close()

    thread = threading.Thread(target=_work)
    thread.start()
    yield
    thread.join(timeout=60)
    assert not thread.is_alive()


@contextmanager
def worker() -> Iterator[None]:
    """Take up the queued build."""
    with beside(lambda: plan_build_run(build_id=PlanBuild.objects.get(state="queued").pk)):
        yield


Shown = Callable[[str], None]
SignIn = Callable[[Any], Page]
