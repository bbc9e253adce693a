"""The fleet: which tyre sits where, what the meters say, what a machine runs in a day."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError, NotFoundError
from planner.domain.fleet import RemovalReason
from planner.domain.injury import Injury, Zone
from planner.models import MachineReading, Tyre, TyreFitting
from planner.selectors.machines import fleet_list, machine_get, running_hours_get
from planner.services.damage_registration import DamageReport, damage_register
from planner.services.machines import machine_hours_record, machine_tyre_fit, machine_tyre_take_off
from tests.lib.books import assumption_add
from tests.lib.fleet import machine_add, tyre_add, tyre_on
from tests.lib.mine import Mine, mine_equipped, mine_open

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    return mine_open()


def test_a_tyre_sits_where_it_was_fitted_until_it_comes_off(mine: Mine) -> None:
    loader = machine_add(mine, "L1", hours_run=1000)
    tyre = tyre_on(mine, loader, "1", "A1")
    (row,) = fleet_list(user=mine.supervisor, site=mine.site, now=timezone.now())
    assert [seat.tyre for seat in row.seats] == [tyre, None]
    assert [seat.position.code for seat in row.empty] == ["2"]
    machine_hours_record(user=mine.supervisor, machine=loader, hours=1040)
    machine_tyre_take_off(
        user=mine.supervisor, machine=loader, serial="A1", reason=RemovalReason.WORN, why="bald"
    )
    fitting = TyreFitting.objects.get()
    # 1040 h at removal less 1000 h at fitting
    assert (fitting.hours_run, fitting.reason, Tyre.objects.get().hours_run) == (40, "worn", 40)
    assert Tyre.objects.get().machine is None


def test_registering_damage_takes_the_fitted_tyre_off_its_machine() -> None:
    mine = mine_equipped()
    loader = machine_add(mine, "L1", hours_run=500)
    tyre_on(mine, loader, "1", "A1")
    report = DamageReport(
        serial="A1", size_as_written="20.5R25", demounted=True, machine_id=loader.pk,
        injury=Injury(zone=Zone.SIDEWALL, length_mm=90, width_mm=50, depth_mm=20, plies=0),
        needed_by=timezone.now() + timedelta(days=3),
    )  # fmt: skip
    damage_register(user=mine.supervisor, site=mine.site, report=report)
    assert TyreFitting.objects.get().reason == "damaged"
    with pytest.raises(ConflictError, match="in for repair: WO-0001"):
        machine_tyre_fit(user=mine.supervisor, machine=loader, position="1", serial="A1")


def test_what_can_not_be_fitted_is_refused_by_name(mine: Mine) -> None:
    loader = machine_add(mine, "L1")
    tyre_on(mine, loader, "1", "A1")
    tyre_add(mine, "B1", "26.5R25")
    tyre_add(mine, "B2")
    for position, serial, kind, words in (
        ("2", "B1", InvalidValueError, "takes 20.5R25; B1 is 26.5R25"),
        ("1", "B2", ConflictError, "A1 sits there already"),
        ("9", "B2", InvalidValueError, "has no position 9; it has 1, 2"),
        ("2", "C9", NotFoundError, "no tyre C9"),
    ):
        with pytest.raises(kind, match=words):
            machine_tyre_fit(user=mine.supervisor, machine=loader, position=position, serial=serial)
    with pytest.raises(NotAllowedError):
        machine_tyre_fit(user=mine.users["technician"], machine=loader, position="2", serial="B2")
    assert TyreFitting.objects.count() == 1


def test_a_meter_runs_neither_backwards_nor_faster_than_the_clock(mine: Mine) -> None:
    loader = machine_add(mine, "L1", hours_run=1000)
    then = timezone.now() - timedelta(days=2)
    machine_hours_record(user=mine.supervisor, machine=loader, hours=1010, read_at=then)
    for hours, words in ((1009, "said 1010 h already"), (1060, "50 h can't have run")):
        with pytest.raises(InvalidValueError, match=words):
            machine_hours_record(user=mine.supervisor, machine=loader, hours=hours)
    # 48 h have gone by since, and a reading may be an hour off
    machine_hours_record(user=mine.supervisor, machine=loader, hours=1058)
    loader.refresh_from_db()
    assert loader.hours_run == 1058


def test_hours_a_day_come_from_a_week_of_readings_else_from_what_the_site_assumes(mine: Mine) -> None:
    now = timezone.now()
    loaders = [machine_add(mine, code, hours_run=1000) for code in ("L1", "L2")]
    for days, hours in ((20, 700), (10, 850), (0, 1000)):
        MachineReading.objects.create(
            site=mine.site, machine=loaders[0], read_at=now - timedelta(days=days), hours=hours
        )
    MachineReading.objects.create(
        site=mine.site, machine=loaders[1], read_at=now - timedelta(days=6), hours=900
    )
    MachineReading.objects.create(site=mine.site, machine=loaders[1], read_at=now, hours=1000)
    running = running_hours_get(site=mine.site, machines=loaders, now=now)
    # 300 h in 20 days; six days are too few, and nothing is assumed yet
    assert running[loaders[0].pk].hours_a_day == pytest.approx(15)
    assert running[loaders[1].pk].hours_a_day is None
    assumption_add(mine.site, mine.supervisor, "running hours a year", "3650")
    running = running_hours_get(site=mine.site, machines=loaders, now=now)
    assert running[loaders[1].pk].hours_a_day == pytest.approx(10)
    assert not running[loaders[1].pk].is_measured


def test_a_stranger_reads_no_fleet(mine: Mine) -> None:
    machine_add(mine, "L1")
    other = mine_open("other")
    with pytest.raises(NotFoundError):
        fleet_list(user=other.supervisor, site=mine.site, now=timezone.now())
    with pytest.raises(NotFoundError):
        machine_get(user=other.supervisor, site=mine.site, code="L1")


def test_the_fleet_page_costs_the_same_with_one_machine_and_with_three() -> None:
    mine = mine_equipped()
    client = Client()
    client.force_login(mine.supervisor)
    counts = []
    for code in ("L1", "L2", "L3"):
        loader = machine_add(mine, code)
        tyre_on(mine, loader, "1", f"A{code}")
        mine.order(f"B{code}", machine=loader)
        with CaptureQueriesContext(connection) as queries:
            page = client.get(f"/at/{mine.site.code}/fleet/").content.decode()
        counts.append(len(queries))
        assert code in page
    assert len(set(counts)) == 1


def test_a_machine_is_worked_on_from_its_page(mine: Mine) -> None:
    machine_add(mine, "L1", hours_run=100)
    tyre_add(mine, "A1")
    client = Client()
    client.force_login(mine.users["planner"])
    address = f"/at/{mine.site.code}/fleet/machines/L1/"
    client.post(f"{address}fit/", {"position": "1", "serial": "A1"})
    client.post(f"{address}hours/", {"hours": "120"})
    assert "20 h" in client.get(address).content.decode()
    client.post(f"{address}take-off/", {"serial": "A1", "reason": "damaged"})
    assert "after 20 h on position 1" in client.get(address).content.decode()
    refused = client.post(f"{address}hours/", {"hours": "many"})
    assert (refused.status_code, "whole number" in refused.content.decode()) == (422, True)
