"""Calendar feeds: read back with icalendar, right across clock changes, silent to who has no business."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from icalendar import Calendar, Event

from planner.domain.feeds import FeedKind
from planner.models import CalendarFeed, RosterPattern, Site, SiteMembership, Technician, WorkOrder
from planner.services.calendar_feeds import calendar_feed_make, calendar_feed_stop
from planner.services.rosters import shifts_make
from tests.lib.mine import Mine, at, mine_equipped, mine_open
from tests.lib.plans import plan_next, plan_published

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("A1")
    return mine


def address_of(mine: Mine, kind: FeedKind, role: str = "planner") -> str:
    _row, secret = calendar_feed_make(user=mine.users[role], site=mine.site, kind=kind)
    return f"/feeds/{secret}.ics"


def events_at(address: str) -> list[Event]:
    answer = Client().get(address)
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    calendar = Calendar.from_ical(answer.content)
    assert calendar.errors == []
    return list(calendar.walk("VEVENT"))


def test_a_ready_time_keeps_its_uid_and_grows_its_sequence(mine: Mine) -> None:
    address = address_of(mine, FeedKind.READY)
    first_plan = plan_next(mine)
    (first,) = events_at(address)
    # 280 min of stages from 06:00 on, as the notices' tests work out
    assert first.decoded("dtstart") == at(10, 40)
    assert first.decoded("dtstamp") == (first_plan.published_at or datetime.now(UTC)).replace(microsecond=0)
    assert "A1" in str(first["summary"])
    WorkOrder.objects.update(released_at=at(6, days=1))
    plan_next(mine, 1)
    (second,) = events_at(address)
    assert second.decoded("dtstart") == at(10, 40, days=1)
    assert (first["uid"], first["sequence"], second["sequence"]) == (second["uid"], 1, 2)


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        # IANA: the clock goes forward on 4 October and back on 5 April 2026 in Sydney.
        ("Australia/Sydney", date(2026, 10, 3), 11),
        ("Australia/Sydney", date(2026, 4, 4), 13),
        ("America/New_York", date(2026, 10, 31), 13),
    ],
)
def test_a_night_shift_over_a_clock_change_is_as_long_as_it_really_is(
    mine: Mine, zone: str, day: date, hours: int
) -> None:
    Site.objects.filter(pk=mine.site.pk).update(time_zone=zone)
    mine.site.refresh_from_db()
    RosterPattern.objects.update(starts_at=time(18), ends_at=time(6), first_day=day)
    shifts_make(user=mine.supervisor, site=mine.site, first_day=day, last_day=day)
    start = datetime.combine(day, time(12), ZoneInfo(zone))
    WorkOrder.objects.update(needed_by=start + timedelta(days=2), released_at=start, received_at=start)
    plan_published(mine, start, start + timedelta(days=1))
    events = events_at(address_of(mine, FeedKind.SHIFTS))
    assert len(events) == 2
    for event in events:
        begins, ends = event.decoded("dtstart"), event.decoded("dtend")
        assert ends - begins == timedelta(hours=hours)
        clock = [each.astimezone(ZoneInfo(zone)).time() for each in (begins, ends)]
        assert clock == [time(18), time(6)]


def test_a_technician_reads_their_own_shifts_others_all_and_nobody_a_name(mine: Mine) -> None:
    Technician.objects.filter(code="T1").update(user=mine.users["technician"], name="Ada Byron")
    plan_next(mine)
    own = events_at(address_of(mine, FeedKind.SHIFTS, "technician"))
    everybodys = events_at(address_of(mine, FeedKind.SHIFTS, "supervisor"))
    assert {str(event["summary"]) for event in own} == {"Shift of T1"}
    assert {str(event["summary"]) for event in everybodys} == {"Shift of T1", "Shift of T2"}
    assert all("Ada" not in event.to_ical().decode() for event in everybodys)
    assert any("Skive" in str(event["description"]) for event in everybodys)


def test_a_calendar_before_the_first_plan_is_whole_and_empty(mine: Mine) -> None:
    address = address_of(mine, FeedKind.READY)
    assert events_at(address) == []
    assert len(Calendar.from_ical(Client().get(address).content).subcomponents) == 1


def test_an_unchanged_calendar_is_not_sent_again(mine: Mine) -> None:
    address = address_of(mine, FeedKind.READY)
    tag = Client().get(address)["ETag"]
    assert Client().get(address, headers={"if-none-match": tag}).status_code == 304
    plan_next(mine)
    assert Client().get(address, headers={"if-none-match": tag}).status_code == 200


def test_a_wrong_stopped_or_orphaned_address_is_not_there(mine: Mine) -> None:
    old, new = (address_of(mine, FeedKind.READY) for _ in range(2))
    wrong = "/feeds/" + "x" * 43 + ".ics"
    assert [Client().get(each).status_code for each in (wrong, old, new)] == [404, 404, 200]
    assert Client().post(new).status_code == 405
    SiteMembership.objects.filter(user=mine.users["planner"]).delete()
    assert Client().get(new).status_code == 404
    other = address_of(mine, FeedKind.READY, "accountant")
    accountant = mine.users["accountant"]
    accountant.is_active = False
    accountant.save()
    assert Client().get(other).status_code == 404
    stopped = address_of(mine, FeedKind.SHIFTS, "supervisor")
    calendar_feed_stop(user=mine.supervisor, site=mine.site, kind=FeedKind.SHIFTS)
    assert Client().get(stopped).status_code == 404


def test_the_secret_is_shown_once_and_kept_nowhere(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.users["planner"])
    page = client.post("/at/ridge/calendar/ready/make/")
    secret = page.content.decode().partition("/feeds/")[2].partition(".ics")[0]
    assert (len(secret), page["Cache-Control"]) == (43, "no-store")
    assert "/feeds/" not in client.get("/at/ridge/calendar/").content.decode()
    assert secret not in str(CalendarFeed.objects.values().get())
    client.post("/at/ridge/calendar/ready/stop/")
    assert Client().get(f"/feeds/{secret}.ics").status_code == 404
    assert client.post("/at/ridge/calendar/weather/make/").status_code == 404


def test_another_site_is_never_in_a_feed(mine: Mine) -> None:
    other = mine_open("other")
    plan_next(mine)
    assert events_at(address_of(other, FeedKind.READY)) == []
