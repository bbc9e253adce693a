"""Present worth and annual cost against numpy-financial on random streams."""

from decimal import Decimal

import numpy as np
import numpy_financial  # type: ignore[import-untyped]
import pytest

from planner.costing.annuity import equivalent_annual_cost, present_worth
from planner.domain.money import Money


def _money(amount: float) -> Money:
    return Money(Decimal(repr(float(amount))), "AUD")


@pytest.mark.parametrize("seed", range(20))
def test_present_worth_is_npv(seed: int) -> None:
    random = np.random.default_rng(seed)
    stream, rate = random.normal(0, 1e4, random.integers(1, 25)), random.uniform(0, 0.4)
    ours = present_worth([_money(amount) for amount in stream], Decimal(repr(float(rate))))
    assert float(ours.amount) == pytest.approx(float(numpy_financial.npv(rate, stream)), rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_annual_cost_is_the_payment_of_a_loan(seed: int) -> None:
    random = np.random.default_rng(100 + seed)
    first, salvage = random.uniform(5e4, 2e5), random.uniform(0, 5e4)
    yearly, rate, years = random.uniform(0, 1e4), random.uniform(0.001, 0.3), random.uniform(0.2, 12)
    ours = equivalent_annual_cost(
        first=_money(first),
        salvage=_money(salvage),
        yearly=_money(yearly),
        rate=Decimal(repr(float(rate))),
        years=Decimal(repr(float(years))),
    )
    theirs = yearly - float(numpy_financial.pmt(rate, years, first, -salvage))
    assert float(ours.amount) == pytest.approx(theirs, rel=1e-9)
