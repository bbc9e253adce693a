"""Spare cover from rows: supply, demand, repairs, the day it runs out, and the weight that follows."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from scipy.stats import poisson

from planner.domain.errors import ConflictError, InvalidValueError, NotAllowedError
from planner.domain.fleet import RemovalReason
from planner.domain.states import TyreState
from planner.models import CostStock, Machine, TyreDelivery, TyreFitting, WorkOrder
from planner.selectors.accounts.books import site_day
from planner.selectors.removal_rates import removal_rates_get
from planner.selectors.repairs_back import repair_back_list
from planner.selectors.spare_cover import SizeCover, spare_cover_list
from planner.selectors.spare_priorities import suggestion_get, suggestion_list
from planner.services.removal_assumptions import removal_assumption_set
from planner.services.tyre_deliveries import (
    tyre_delivery_call_off,
    tyre_delivery_date,
    tyre_delivery_order,
    tyre_delivery_receive,
)
from tests.lib.fleet import SIZE, machine_add, readings_add, tyre_add, tyre_on
from tests.lib.mine import Mine, mine_equipped

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    """A loader with two full positions that runs 12 h a day, and tyres that stay on for 240 h: 0.1 a day."""
    mine = mine_equipped()
    loader = machine_add(mine, "L1", hours_run=1000, priority=60)
    for position in ("1", "2"):
        tyre_on(mine, loader, position, f"S{position}")
    readings_add(mine, loader, 12)
    removal_assumption_set(
        user=mine.supervisor, site=mine.site, size_as_written="20.5 r 25", hours=240, reason="for the test"
    )
    return mine


def stock_set(mine: Mine, on_hand: int, promised: int = 0) -> None:
    CostStock.objects.update_or_create(
        site=mine.site, size=SIZE, defaults={"on_hand": on_hand, "promised": promised}
    )


def cover_of(mine: Mine, size: str = SIZE) -> SizeCover:
    covers = spare_cover_list(user=mine.supervisor, site=mine.site)
    return next(cover for cover in covers if cover.size == size)


def test_a_stock_runs_out_as_the_poisson_law_says(mine: Mine) -> None:
    stock_set(mine, 2)
    cover = cover_of(mine)
    # 2 positions × 12 h / 240 h = 0.1 a day, 6 in 60 days
    assert (cover.demand_a_day, cover.asked_for) == (pytest.approx(0.1), pytest.approx(6))
    assert cover.odds_at_end == pytest.approx(poisson.sf(2, 6.0))
    # The median of the third removal is 2.6741 / 0.1 = 26.7 days on: the 27th day, today being the first.
    assert cover.even_on == cover.today + timedelta(days=26)
    assert cover.early_on is not None
    assert poisson.sf(2, 0.1 * ((cover.early_on - cover.today).days + 1)) >= 0.1


def test_an_empty_position_takes_the_first_spare_and_a_promised_one_is_not_taken_twice(mine: Mine) -> None:
    machine_add(mine, "L2", seats=1)
    stock_set(mine, 1, promised=1)
    assert (cover_of(mine).supply.waiting, cover_of(mine).supply.spares) == (1, 0)
    stock_set(mine, 0)
    cover = cover_of(mine)
    assert (cover.supply.spares, cover.early_on, cover.even_on) == (-1, cover.today, cover.today)


def test_a_repaired_tyre_is_a_spare_until_it_is_fitted_or_comes_back(mine: Mine) -> None:
    order = mine.order("R1")
    assert cover_of(mine).supply.repaired == 0
    WorkOrder.objects.filter(pk=order.pk).update(state="repaired")
    assert cover_of(mine).supply.repaired == 1
    order.tyre.state = TyreState.FITTED
    order.tyre.save()
    assert cover_of(mine).supply.repaired == 0


def test_a_delivery_and_a_promised_repair_put_the_day_off(mine: Mine) -> None:
    stock_set(mine, 1)
    before = cover_of(mine).even_on
    delivery_of(mine, days=4)
    after = cover_of(mine).even_on
    assert before is not None
    assert after is not None
    # One spare: 16.8 days; three: 36.7 days (medians of the second and the fourth removal, at 0.1 a day).
    assert ((before - cover_of(mine).today).days + 1, (after - cover_of(mine).today).days + 1) == (17, 37)


def delivery_of(mine: Mine, days: int, quantity: int = 2) -> TyreDelivery:
    return tyre_delivery_order(
        user=mine.users["planner"], site=mine.site, size_as_written="20.5R25", quantity=quantity,
        expected_on=site_day(mine.site) + timedelta(days=days),
    )  # fmt: skip


def test_what_arrives_joins_the_store_once(mine: Mine) -> None:
    row = delivery_of(mine, days=4)
    user, site = mine.users["planner"], mine.site
    tyre_delivery_date(user=user, site=site, delivery_id=row.pk, expected_on=site_day(site))
    assert tyre_delivery_receive(user=user, site=site, delivery_id=row.pk).on_hand == 2
    with pytest.raises(ConflictError, match="arrived on"):
        tyre_delivery_receive(user=user, site=site, delivery_id=row.pk)
    other = delivery_of(mine, days=9)
    tyre_delivery_call_off(user=user, site=site, delivery_id=other.pk)
    assert cover_of(mine).supply.on_order == 0
    with pytest.raises(NotAllowedError):
        tyre_delivery_call_off(user=mine.users["accountant"], site=site, delivery_id=row.pk)
    with pytest.raises(InvalidValueError, match="day that is over"):
        delivery_of(mine, days=-1)


def test_own_removals_speak_from_the_eighth_on(mine: Mine) -> None:
    loader, tyre = Machine.objects.get(), tyre_add(mine, "OLD")
    TyreFitting.objects.all().delete()
    for number in range(7):
        removal_add(mine, loader, tyre, number, RemovalReason.DAMAGED)
    removal_add(mine, loader, tyre, 7, RemovalReason.MOVED)
    assert not removal_rates_get(site=mine.site)[SIZE].is_measured
    removal_add(mine, loader, tyre, 8, RemovalReason.WORN)
    rate = removal_rates_get(site=mine.site)[SIZE]
    # Nine stays of 80 h on machines, eight of which ended with a tyre asked for; a moved tyre asks for none.
    assert (rate.is_measured, rate.hours) == (True, 720 / 8)


def removal_add(mine: Mine, machine: Machine, tyre: object, number: int, reason: RemovalReason) -> None:
    start = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(days=number)
    TyreFitting.objects.create(
        site=mine.site, tyre=tyre, machine=machine, position="1", fitted_at=start, fitted_hours=80 * number,
        removed_at=start + timedelta(days=1), removed_hours=80 * number + 80, reason=reason,
    )  # fmt: skip


def test_without_records_or_an_assumption_no_odds_are_made_up(mine: Mine) -> None:
    machine_add(mine, "T1", size="27.00R49")
    cover = cover_of(mine, "27.00R49")
    assert (cover.demand_a_day, cover.early_on, suggestion_list(cover)) == (None, None, [])
    assert "nothing assumed" in cover.rate.source
    with pytest.raises(InvalidValueError, match="where the figure is from"):
        removal_assumption_set(
            user=mine.supervisor, site=mine.site, size_as_written="27.00R49", hours=3000, reason=" "
        )


def test_the_suggested_weight_is_the_machines_times_the_odds_and_changes_nothing(mine: Mine) -> None:
    stock_set(mine, 1)
    orders = [mine.order(f"R{number}") for number in (1, 2)]
    first, second = suggestion_list(cover_of(mine))
    # 3 are expected in 30 days; the first further one is wanted where more than 1 come off, the next over 2.
    for found, beyond in ((first, 1), (second, 2)):
        odds = poisson.sf(beyond, 3.0)
        assert (found.odds, found.weight) == (pytest.approx(odds), round(60 * odds))
    assert suggestion_get(user=mine.supervisor, site=mine.site, order=orders[0]) == first
    assert set(WorkOrder.objects.values_list("priority", flat=True)) == {10}


def test_repairs_without_a_plan_have_no_date_and_are_not_counted_on(mine: Mine) -> None:
    stock_set(mine, 1)
    alone = cover_of(mine).odds_at_end
    mine.order("R1")
    (back,) = repair_back_list(user=mine.supervisor, site=mine.site)[SIZE]
    assert (back.likely_at, back.surely_at) == (None, None)
    assert cover_of(mine).odds_at_end == alone


def test_the_spare_pages_cost_the_same_with_one_size_and_with_three(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.users["planner"])
    pages = (f"/at/{mine.site.code}/fleet/spares/", f"/at/{mine.site.code}/fleet/spares/size/?size=20.5R25")
    counts: list[list[int]] = []
    for number, size in enumerate(("20.5R25", "26.5R25", "29.5R25")):
        machine_add(mine, f"M{number}", size=size)
        mine.order(f"O{number}", size=size)
        counts.append([])
        for page in pages:
            with CaptureQueriesContext(connection) as queries:
                assert client.get(page).status_code == 200
            counts[-1].append(len(queries))
    assert counts[0] == counts[1] == counts[2]


def test_a_planner_keeps_deliveries_and_assumptions_on_the_sizes_page(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.users["planner"])
    root = f"/at/{mine.site.code}/fleet/spares/"
    day = date.today() + timedelta(days=9)  # noqa: DTZ011
    client.post(f"{root}order/", {"size": "20.5R25", "quantity": "3", "expected_on": day.isoformat()})
    client.post(f"{root}assume/", {"size": "20.5R25", "hours": "500", "reason": "last year's book"})
    page = client.get(f"{root}size/?size=20.5R25").content.decode()
    assert "last year&#x27;s book" in page
    assert TyreDelivery.objects.get().quantity == 3
    assert client.get(f"{root}size/?size=99.00R99").status_code == 404
    assert client.post(f"{root}order/", {"size": "20.5R25"}).status_code == 422
