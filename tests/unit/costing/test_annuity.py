"""Time value of money: the edges that worked examples leave out."""

from decimal import Decimal

import pytest

from planner.costing.annuity import annuity_factor, economic_life, equivalent_annual_cost, present_worth
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money

NOTHING = Money(Decimal(0), "AUD")


def test_without_interest_a_factor_is_its_years() -> None:
    assert annuity_factor(Decimal(0), Decimal("2.5")) == Decimal("2.5")


def test_a_tiny_rate_is_close_to_none() -> None:
    assert annuity_factor(Decimal("1e-9"), Decimal(3)) == pytest.approx(Decimal(3), rel=Decimal("1e-6"))


def test_a_life_of_no_years_has_no_annual_cost() -> None:
    with pytest.raises(InvalidValueError, match="more than 0 years"):
        equivalent_annual_cost(
            first=NOTHING, salvage=NOTHING, yearly=NOTHING, rate=Decimal(0), years=Decimal(0)
        )


def test_a_stream_needs_an_amount() -> None:
    with pytest.raises(InvalidValueError, match="at least one amount"):
        present_worth([], Decimal(0))


def test_a_rate_of_minus_all_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="more than −100 %"):
        annuity_factor(Decimal(-1), Decimal(1))


def test_economic_life_needs_matching_years() -> None:
    with pytest.raises(InvalidValueError, match="the same years"):
        economic_life(NOTHING, [NOTHING], [], Decimal(0))
