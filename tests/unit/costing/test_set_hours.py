"""A heater set's hour by four ways, against figures worked out by hand."""

from datetime import date
from decimal import Decimal

import pytest

from planner.costing.depreciation import Asset
from planner.costing.rates import held_on
from planner.costing.set_hours import HeaterSetAsset, SetTerms, WritingOff, hour_prices
from tests.lib.costing import aud

OWNED = HeaterSetAsset(
    heater_set="H1",
    asset=Asset(cost=aud(36000), salvage=aud(6000), life_years=5),
    bought_on=date(2024, 2, 29),
    life_hours=Decimal(12000),
    source="invoice 77",
)


def price_on(way: WritingOff, day: date) -> Decimal:
    terms = SetTerms(way=way, hours_a_year=Decimal(2000), share=Decimal("0.4"))
    found = held_on(hour_prices(OWNED, terms), day)
    assert found is not None
    return found.price.amount


@pytest.mark.parametrize(
    ("way", "first", "second"),
    [
        (WritingOff.STRAIGHT_LINE, "3", "3"),  # 30000 ÷ 5 ÷ 2000
        (WritingOff.BY_HOURS, "2.5", "2.5"),  # 30000 ÷ 12000
        (WritingOff.DECLINING_BALANCE, "7.2", "4.32"),  # 0.4 × 36000 ÷ 2000, then 0.4 × 21600 ÷ 2000
        (WritingOff.SUM_OF_DIGITS, "5", "4"),  # 30000 × 5 ÷ 15 ÷ 2000, then × 4
    ],
)
def test_the_first_and_the_second_year(way: WritingOff, first: str, second: str) -> None:
    assert price_on(way, date(2025, 2, 27)) == Decimal(first)
    assert price_on(way, date(2025, 2, 28)) == Decimal(second)


@pytest.mark.parametrize("way", [WritingOff.STRAIGHT_LINE, WritingOff.SUM_OF_DIGITS])
def test_after_its_life_an_hour_costs_nothing(way: WritingOff) -> None:
    assert price_on(way, date(2029, 2, 27)) > 0
    assert price_on(way, date(2029, 2, 28)) == 0


def test_a_price_opens_to_what_it_was_made_from() -> None:
    terms = SetTerms(way=WritingOff.DECLINING_BALANCE, hours_a_year=Decimal(2000), share=Decimal("0.4"))
    price = next(hour_prices(OWNED, terms))
    told = {given.label: given.value for given in price.givens}
    assert told == {
        "first cost": 36000,
        "worth at the end": 6000,
        "life": 5,
        "use in a year": 2000,
        "share lost in a year": Decimal("0.4"),
    }
