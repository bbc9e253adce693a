"""The floor, the sheets and the plan page in the two nights in which the clock changes.

Australia/Sydney, IANA time zone database: a shift from 18:00 to 06:00 lasts 13 h from 4 to 5 April 2026 and
11 h from 3 to 4 October 2026.
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from planner.domain.durations import hours_minutes
from planner.models import Damage, Plan, RosterPattern, Shift, ShiftBreak, Site, StageRun, Technician
from planner.selectors.plans import plan_content_get
from planner.services.rosters import shifts_make
from planner.web.entrance.own_day import own_sheet
from planner.web.here import here_get
from tests.lib.mine import Mine, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db
SYDNEY = ZoneInfo("Australia/Sydney")
NIGHTS = {"back": (date(2026, 4, 5), 13), "forward": (date(2026, 10, 4), 11)}


def wall(day: date, hour: int, minute: int = 0) -> datetime:
    """A wall time; the first of two where the clock is put back."""
    return datetime.combine(day, time(hour, minute), SYDNEY)


@pytest.fixture(params=NIGHTS)
def night(request: pytest.FixtureRequest) -> tuple[date, int]:
    """The day on whose early morning the clock changes, and how long its night shift lasts [h]."""
    return NIGHTS[request.param]


@pytest.fixture
def mine(night: tuple[date, int], monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine that works that night, at half past three in the morning."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    Site.objects.update(time_zone="Australia/Sydney")
    mine.site.refresh_from_db()
    Shift.objects.all().delete()
    ShiftBreak.objects.all().delete()
    RosterPattern.objects.update(starts_at=time(18), ends_at=time(6))
    Technician.objects.filter(code="T1").update(user=mine.users["technician"])
    day, _ = night
    administrator = mine.users["administrator"]
    shifts_make(user=administrator, site=mine.site, first_day=day - timedelta(days=1), last_day=day)
    monkeypatch.setattr("django.utils.timezone.now", lambda: wall(day, 3, 30))
    mine.order("A1")
    mine.order("A2")
    return mine


def published(mine: Mine, day: date) -> Plan:
    return plan_published(mine, wall(day - timedelta(days=1), 18), wall(day + timedelta(days=1), 18))


def page(mine: Mine, role: str, address: str) -> str:
    client = Client()
    client.force_login(mine.users[role])
    answer = client.get(f"/at/{mine.site.code}/{address}")
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_night_shift_keeps_its_sheet_and_its_true_length(mine: Mine, night: tuple[date, int]) -> None:
    day, hours = night
    plan = published(mine, day)
    own = own_sheet(here_get(mine.users["technician"], mine.site.code), plan, wall(day, 3, 30))
    assert own is not None
    assert (own.start, own.end) == (wall(day - timedelta(days=1), 18), wall(day, 6))
    assert own.end.astimezone(UTC) - own.start.astimezone(UTC) == timedelta(hours=hours)


def test_the_floor_shows_wall_times_and_counts_elapsed_minutes(mine: Mine, night: tuple[date, int]) -> None:
    day, hours = night
    plan = published(mine, day)
    job = plan_content_get(plan=plan).plan.schedule.jobs[0]
    stage, following = job.stages[:2]
    damage = Damage.objects.get(work_order__number=int(job.id.removeprefix("WO-")))
    assert damage.work_order
    StageRun.objects.create(
        site=mine.site, work_order=damage.work_order, damage=damage, sequence=1, name=stage.name,
        state="running", started_at=wall(day, 1),
    )  # fmt: skip
    text = page(mine, "supervisor", "floor/")
    # From 01:00 to 03:30 by the wall, 150 min, and an hour more or less where the clock changed between.
    elapsed = 150 + 60 * (hours - 12)
    over = elapsed - (stage.end - stage.start)
    assert f"{hours_minutes(over)} over its time" in text
    start = plan_content_get(plan=plan).problem.origin.astimezone(UTC) + timedelta(minutes=stage.start)
    assert f"{start.astimezone(SYDNEY):%H:%M} – " in text
    assert f"next: {following.name}" in text


@pytest.mark.parametrize("address", ["plan/", "plan/?zoom=shift", "plan/?zoom=week", "sheets/", ""])
def test_the_other_pages_of_the_night_open(mine: Mine, night: tuple[date, int], address: str) -> None:
    day, _ = night
    published(mine, day)
    assert f"{day:%-d}" in page(mine, "supervisor", address)
