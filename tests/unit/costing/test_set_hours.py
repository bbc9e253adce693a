"""A heater set's hour by four ways, against figures worked out by hand."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from planner.costing.depreciation import Asset
from planner.costing.figures import Given
from planner.costing.lines import CostSheet
from planner.costing.rates import RateBook, held_on
from planner.costing.set_hours import HeaterSetAsset, SetTerms, WritingOff, hour_prices
from planner.costing.sheet import cost_sheet
from planner.costing.work import HeaterSetUse, RepairWork
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


def test_by_hours_it_is_charged_until_its_life_is_used() -> None:
    terms = SetTerms(way=WritingOff.BY_HOURS, hours_a_year=Decimal(2000), share=Decimal("0.4"))

    def sheet_of(used: str) -> CostSheet:
        (price,) = hour_prices(replace(OWNED, used_hours=Decimal(used)), terms)
        held = RepairWork(heater_sets=(HeaterSetUse(heater_set="H1", minutes=Decimal(150)),))
        return cost_sheet(held, RateBook(currency="AUD", prices=(price,)), date(2025, 1, 1))

    assert sheet_of("11990").total == aud("6.25")  # 2.5 h at 2.50
    (line,) = sheet_of("11999").lines
    assert line.amount == aud("2.50")  # one hour is left
    assert line.givens[-1] == Given(label="held beyond its life", value=Decimal(90), unit="min, not charged")
    assert sheet_of("12500").total == aud(0)
