"""R. Panneerselvam, Engineering Economics: examples 8.1 and 8.4, and depreciation in chapter 9."""

from decimal import Decimal

import pytest

from planner.costing.annuity import economic_life, equivalent_annual_cost
from planner.costing.depreciation import Asset, declining_balance, straight_line, sum_of_digits
from planner.domain.money import Money


def rupees(amount: int | str) -> Money:
    return Money(Decimal(amount), "INR")


@pytest.mark.parametrize(
    ("first", "salvage", "yearly", "expected"),
    [(120000, 25000, 25000, "51106.443"), (150000, 20000, 14000, "48019.343")],
)
def test_example_8_4_annual_cost_of_two_machines(
    first: int, salvage: int, yearly: int, expected: str
) -> None:
    cost = equivalent_annual_cost(
        first=rupees(first),
        salvage=rupees(salvage),
        yearly=rupees(yearly),
        rate=Decimal("0.12"),
        years=Decimal(6),
    )
    assert cost.amount == pytest.approx(Decimal(expected), abs=Decimal("0.001"))


def test_example_8_1_economic_life_is_seven_years() -> None:
    upkeep = [rupees(200 * year) for year in range(12)]
    best = economic_life(rupees(4000), upkeep, [rupees(0)] * 12, Decimal("0.12"))
    assert best.years == 7
    # The book reads 1386.65 from tables of four places; the exact figure is 1386.764.
    assert best.annual_cost.amount == pytest.approx(Decimal("1386.764"), abs=Decimal("0.001"))


@pytest.fixture(name="asset")
def _asset() -> Asset:
    return Asset(cost=rupees(100000), salvage=rupees(20000), life_years=8)


def test_straight_line_loses_10000_a_year(asset: Asset) -> None:
    assert [straight_line(asset, year) for year in (1, 8)] == [rupees(10000)] * 2


def test_declining_balance_in_year_5_is_8192(asset: Asset) -> None:
    # 100000 × 0.8^4 × 0.2
    assert declining_balance(asset, 5, Decimal("0.2")) == rupees(8192)


def test_sum_of_digits_in_year_5_is_8888_889(asset: Asset) -> None:
    # 80000 × 4 / 36
    assert sum_of_digits(asset, 5).amount == pytest.approx(Decimal("8888.889"), abs=Decimal("0.001"))
