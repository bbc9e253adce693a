"""Heater sets whose first cost is on file, written off as the site assumes."""

from datetime import date
from decimal import Decimal

import pytest

from planner.costing.assumptions import Assumption
from planner.costing.lines import CostKind
from planner.domain.errors import InvalidValueError
from planner.models import CostAsset
from planner.selectors.accounts.assumptions import assumption_effects
from planner.selectors.accounts.sheets import estimate_get
from planner.services.accounts.assumptions import assumption_propose
from planner.services.accounts.costs import actual_book
from tests.lib.books import Books, assumption_add, books, done, order_add

pytestmark = pytest.mark.django_db


@pytest.fixture(name="found")
def _found() -> Books:
    found = books()
    CostAsset.objects.create(
        site=found.site, item="H1", bought_on=date(2023, 1, 1), first_cost=36000, salvage=6000, life_years=10,
        life_hours=12000, source="invoice 77",
    )  # fmt: skip
    assumption_add(found.site, found.accountant, Assumption.SET_HOURS_A_YEAR, "2000")
    assumption_add(found.site, found.accountant, Assumption.DECLINING_SHARE, "0.4")
    return found


def held(found: Books) -> Decimal:
    """What 200 min of the set cost."""
    (line,) = estimate_get(user=found.accountant, order=found.order).of(CostKind.HEATER_SET)
    return line.amount.amount


def test_the_listed_price_stands_until_a_way_is_assumed(found: Books) -> None:
    assert held(found) == Decimal("40.00")  # 200 min at 12
    assumption_add(found.site, found.accountant, Assumption.WRITING_OFF, "1")
    assert held(found) == Decimal("5.00")  # 30000 ÷ 10 ÷ 2000 = 1.50 an hour
    assumption_add(found.site, found.accountant, Assumption.WRITING_OFF, "2", date(2024, 1, 2))
    assert held(found) == Decimal("8.33")  # 30000 ÷ 12000 = 2.50 an hour


def test_the_line_opens_to_the_first_cost(found: Books) -> None:
    assumption_add(found.site, found.accountant, Assumption.WRITING_OFF, "2")
    (line,) = estimate_get(user=found.accountant, order=found.order).of(CostKind.HEATER_SET)
    assert {given.label: given.value for given in line.givens} == {
        "worked-out price": Decimal("2.5"),
        "first cost": 36000,
        "worth at the end": 6000,
        "life": 12000,
        "used before": 0,
    }


def test_there_is_no_way_between_two_ways(found: Books) -> None:
    with pytest.raises(InvalidValueError, match="must be a whole number"):
        assumption_propose(
            user=found.accountant, site=found.site, name=Assumption.WRITING_OFF, value=Decimal("1.5"),
            effective_from=date(2026, 12, 1), reason="told",
        )  # fmt: skip


def test_booked_hours_use_up_a_set(found: Books) -> None:
    assumption_add(found.site, found.accountant, Assumption.WRITING_OFF, "2")
    CostAsset.objects.update(hours_before=11997)
    done(found)
    row = actual_book(user=found.accountant, work_order=found.order)
    (line,) = (line for line in row.actual_lines if line["kind"] == CostKind.HEATER_SET)
    assert line["quantity"] == "180"  # of 230 min, as 3 h of its 12000 h were left
    assert CostAsset.objects.get().booked_seconds == 180 * 60
    later = order_add(found.site, found.accountant, 2)
    (line,) = estimate_get(user=found.accountant, order=later).of(CostKind.HEATER_SET)
    assert line.amount.amount == 0


def test_the_effect_of_another_way_is_seen_before_it_is_accepted(found: Books) -> None:
    assumption_add(found.site, found.accountant, Assumption.WRITING_OFF, "1")
    row = assumption_propose(
        user=found.accountant, site=found.site, name=Assumption.WRITING_OFF, value=Decimal(2),
        effective_from=date(2026, 12, 1), reason="sets wear by use",
    )  # fmt: skip
    (effect,) = assumption_effects(user=found.accountant, assumption=row)
    assert effect.before != effect.after
