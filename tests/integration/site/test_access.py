"""Sites apart, roles kept, every write told to a chain that shows tampering."""

from collections.abc import Callable
from datetime import date, time
from typing import Any

import pytest
from django.db import connection
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.test.utils import CaptureQueriesContext

from planner.config.reading import ReadingMiddleware
from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.permissions import Role
from planner.models import AuditEvent, RosterPattern, Shift, Site, SiteMembership, WorkOrder
from planner.selectors.access import role_get, site_get, site_list
from planner.selectors.audit_events import audit_event_list
from planner.selectors.fleet import tyre_list
from planner.selectors.resources import heater_set_list, technician_list
from planner.selectors.work_orders import work_order_list
from planner.services.audit import audit_chain_faults
from planner.services.demo_site import demo_site_load
from planner.services.nouns import noun_add, noun_change
from planner.services.rosters import shifts_make
from planner.services.tyres import tyre_move
from planner.services.work_orders import work_order_date, work_order_receive, work_order_reject
from tests.lib.audit_guard import guard_off
from tests.lib.mine import Mine, at, mine_equipped, mine_open

pytestmark = pytest.mark.django_db

LISTS: list[Callable[..., Any]] = [
    work_order_list,
    tyre_list,
    heater_set_list,
    technician_list,
    audit_event_list,
]


@pytest.mark.parametrize("read", LISTS, ids=lambda read: str(read.__name__))
def test_a_user_of_another_site_reads_nothing(read: Callable[..., Any]) -> None:
    here, there = mine_open("here"), mine_open("there")
    with pytest.raises(NotFoundError, match="no site here among yours"):
        read(user=there.supervisor, site=here.site)


def test_a_user_sees_only_their_sites() -> None:
    here, there = mine_open("here"), mine_open("there")
    assert list(site_list(user=here.supervisor)) == [here.site]
    with pytest.raises(NotFoundError):
        site_get(user=here.supervisor, code=there.site.code)


def test_a_page_that_only_reads_asks_the_role_once_and_the_next_one_anew(client: Client) -> None:
    mine = mine_equipped()
    client.force_login(mine.supervisor)
    asked = f'"role" AS "role" FROM "{SiteMembership._meta.db_table}"'
    for role in ("supervisor", "technician"):
        SiteMembership.objects.filter(user=mine.supervisor).update(role=role)
        with CaptureQueriesContext(connection) as queries:
            page = client.get("/at/ridge/")
        assert page.context["here"].role == role
        assert sum(asked in query["sql"] for query in queries) == 1
    SiteMembership.objects.filter(user=mine.supervisor).delete()
    assert client.get("/at/ridge/").status_code == 404


def test_a_role_that_was_taken_away_in_the_middle_of_a_write_is_seen() -> None:
    mine = mine_open()
    request = RequestFactory().post("/")

    def answer(_: HttpRequest) -> HttpResponse:
        before = role_get(user=mine.supervisor, site=mine.site)
        SiteMembership.objects.filter(user=mine.supervisor).delete()
        assert (before, role_get(user=mine.supervisor, site=mine.site)) == (Role.SUPERVISOR, None)
        return HttpResponse()

    ReadingMiddleware(answer)(request)


def test_a_row_of_another_site_is_refused_as_a_value() -> None:
    here, there = mine_open("here"), mine_equipped("there")
    with pytest.raises(InvalidValueError, match="not of the site"):
        here.add("closure", position=there.position("P1"), starts_at=at(6), ends_at=at(7), reason="no")


def test_a_technician_keeps_no_resources() -> None:
    mine = mine_open()
    with pytest.raises(NotAllowedError, match="only an administrator"):
        noun_add(
            user=mine.users["technician"], site=mine.site, noun="skill", values={"code": "x", "name": "x"}
        )


@pytest.mark.parametrize("read", LISTS[:4], ids=lambda read: str(read.__name__))
def test_a_list_needs_as_many_queries_for_three_rows_as_for_one(read: Callable[..., Any]) -> None:
    mine = mine_equipped()
    mine.order("A1")
    counts = [queries_of(mine, read)]
    for number in (2, 3):
        mine.order(f"A{number}")
        mine.heater_set(f"H{number}")
        mine.add("technician", code=f"N{number}", name="new")
    counts.append(queries_of(mine, read))
    assert counts[0] == counts[1]


def queries_of(mine: Mine, read: Callable[..., Any]) -> int:
    with CaptureQueriesContext(connection) as queries:
        for row in read(user=mine.supervisor, site=mine.site):
            shown(row)
    return len(queries)


def shown(row: Any) -> str:
    """What a page would show of a row."""
    named = [str(getattr(row, name, "")) for name in ("tyre", "machine", "route", "site_id")]
    many = [name for name in ("damages", "parts", "fits", "skills") if hasattr(row, name)]
    if not isinstance(row, WorkOrder):
        many = [name for name in many if name != "damages"]
    return " ".join(named + [str(list(getattr(row, name).all())) for name in many])


def test_every_write_is_told_with_who_and_why() -> None:
    mine = mine_equipped()
    order = mine.order("A1")
    work_order_reject(user=mine.supervisor, work_order=order, why="bead wire bare")
    event = audit_event_list(user=mine.supervisor, site=mine.site)[0]
    assert (event.user, event.action, event.why) == (mine.supervisor, "work_order_reject", "bead wire bare")
    assert event.details["before"]["state"] == "to_repair"


@pytest.mark.parametrize("change", [{"why": "another"}, {"details": {"x": 1}}, {"user_id": None}])
def test_the_chain_shows_a_changed_event(change: dict[str, Any]) -> None:
    mine = mine_open()
    assert audit_chain_faults(site=mine.site) == ()
    with guard_off():
        QuerySet(AuditEvent).filter(site=mine.site, sequence=2).update(**change)
    assert audit_chain_faults(site=mine.site) == ("event 2 was changed after it was written",)


def test_the_chain_shows_a_missing_event() -> None:
    mine = mine_open()
    with guard_off():
        QuerySet(AuditEvent).filter(site=mine.site, sequence=2).delete()
    assert audit_chain_faults(site=mine.site)[0] == "event 2 is missing"


def test_a_second_change_from_an_old_page_is_told() -> None:
    order = mine_equipped().order("A1")
    user, facts = order.tyre.damages.get().noted_by, {"needed_by": at(6, days=4), "priority": 9, "why": "x"}
    version = order.version
    work_order_date(user=user, work_order=order, expected_version=version, **facts)
    with pytest.raises(ConflictError, match="changed by somebody else"):
        work_order_date(user=user, work_order=order, expected_version=version, **facts)


def test_a_fitted_tyre_is_not_received_for_repair() -> None:
    mine = mine_equipped()
    tyre = mine.order("A1").tyre
    tyre_move(user=mine.supervisor, tyre=tyre, move="fit")
    with pytest.raises(InvalidValueError, match="only for a demounted tyre"):
        work_order_receive(user=mine.supervisor, site=mine.site, tyre=tyre, needed_by=at(6, days=3))


def test_a_shift_over_a_clock_change_is_as_long_as_it_really_is() -> None:
    # 18:00 to 06:00 over 3-4 October 2026 in Sydney lasts 11 h, over 4-5 April 13 h (IANA tz).
    mine = mine_equipped()
    Site.objects.filter(pk=mine.site.pk).update(time_zone="Australia/Sydney")
    mine.site.refresh_from_db()
    RosterPattern.objects.update(starts_at=time(18), ends_at=time(6))
    for day, hours in ((date(2026, 10, 3), 11), (date(2026, 4, 4), 13)):
        shifts_make(user=mine.supervisor, site=mine.site, first_day=day, last_day=day)
        shift = Shift.objects.filter(day=day)[0]
        assert (shift.ends_at - shift.starts_at).total_seconds() == hours * 3600


def test_a_day_off_takes_the_shift_away_and_again_changes_nothing() -> None:
    mine = mine_equipped()
    technician = technician_list(user=mine.supervisor, site=mine.site)[0]
    day = at(6, days=1).date()
    mine.add("rosterexception", technician=technician, day=day, reason="leave")
    for _ in range(2):
        assert shifts_make(user=mine.supervisor, site=mine.site, first_day=day, last_day=day) == 1


@pytest.mark.parametrize(
    ("noun", "values", "fault"),
    [
        ("rosterpattern", {"recurrence": "FREQ=SOMETIMES"}, "recurrence rule of RFC 5545"),
        ("heaterset", {"power_kw": -1}, "power kw"),
        ("heaterset", {"colour": "red"}, "no field colour"),
    ],
)
def test_a_faulty_change_is_refused_by_name(noun: str, values: dict[str, Any], fault: str) -> None:
    mine = mine_equipped()
    row = RosterPattern.objects.all()[0] if noun == "rosterpattern" else mine.heater_set("H5")
    with pytest.raises(InvalidValueError, match=fault):
        noun_change(user=mine.users["administrator"], site=mine.site, noun=noun, row_id=row.pk, values=values)


def test_the_demo_loads_once_and_keeps_what_is_there() -> None:
    assert demo_site_load(today=date(2026, 11, 25)) is True
    before = AuditEvent.objects.count()
    assert demo_site_load(today=date(2026, 11, 26)) is False
    assert AuditEvent.objects.count() == before
    assert WorkOrder.objects.filter(site__code="halfmoon").count() > 30
