"""What a heater set loses in worth, over whole lives."""

from decimal import Decimal

import pytest

from planner.costing.depreciation import (
    Asset,
    by_hours,
    declining_balance,
    hourly_charge,
    straight_line,
    sum_of_digits,
)
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, money_sum


def aud(amount: int) -> Money:
    return Money(Decimal(amount), "AUD")


@pytest.fixture(name="asset")
def _asset() -> Asset:
    return Asset(cost=aud(36000), salvage=aud(6000), life_years=5)


def test_yearly_methods_lose_the_whole_over_a_life(asset: Asset) -> None:
    years = range(1, 6)
    assert money_sum((straight_line(asset, year) for year in years), "AUD") == aud(30000)
    assert money_sum((sum_of_digits(asset, year) for year in years), "AUD") == aud(30000)


def test_declining_balance_stops_at_the_salvage(asset: Asset) -> None:
    # 36000 × 0.5: 18000, 9000, then 9000 is left, of which 3000 may go; nothing after.
    charges = [declining_balance(asset, year, Decimal("0.5")) for year in range(1, 6)]
    assert charges == [aud(18000), aud(9000), aud(3000), aud(0), aud(0)]


def test_by_hours_follows_use(asset: Asset) -> None:
    assert by_hours(asset, Decimal(12000)) == Money(Decimal("2.5"), "AUD")


def test_a_year_is_spread_over_its_hours(asset: Asset) -> None:
    assert hourly_charge(straight_line(asset, 1), Decimal(1500)) == aud(4)


@pytest.mark.parametrize("year", [0, 6])
def test_a_year_outside_the_life_is_refused(asset: Asset, year: int) -> None:
    with pytest.raises(InvalidValueError, match="not in a life of 5 years"):
        sum_of_digits(asset, year)


@pytest.mark.parametrize("share", ["0", "1", "1.2"])
def test_a_share_is_between_0_and_1(asset: Asset, share: str) -> None:
    with pytest.raises(InvalidValueError, match="between 0 and 1"):
        declining_balance(asset, 1, Decimal(share))


def test_an_asset_loses_worth() -> None:
    with pytest.raises(InvalidValueError, match="worth more at the end"):
        Asset(cost=aud(1), salvage=aud(2), life_years=3)
    with pytest.raises(InvalidValueError, match="at least one year"):
        Asset(cost=aud(2), salvage=aud(1), life_years=0)


def test_hours_are_more_than_none(asset: Asset) -> None:
    with pytest.raises(InvalidValueError, match="more than 0"):
        by_hours(asset, Decimal(0))
