"""How long 10,000 comparisons with 1,000 samples each take on one core.

Run: .venv/bin/python -m tests.bench.costing_speed
"""

import sys
import time
from decimal import Decimal

import numpy as np

from planner.costing.advice import advise
from planner.costing.break_even import break_even
from planner.costing.comparison import Comparison, Terms
from planner.costing.options import OptionKind, TyreOption
from planner.costing.sensitivity import even_factors, sensitivity
from planner.domain.money import Money
from planner.engineering.comparison_odds import (
    UncertainComparison,
    UncertainOutlay,
    UncertainWay,
    comparison_odds,
)
from planner.engineering.life_weibull import WeibullLife

TYRES, SAMPLES = 10_000, 1_000
COVARIANCE = np.array([[0.04, 0.01], [0.01, 0.02]])


def _way(outlay: float, hours: float) -> UncertainWay:
    life = WeibullLife(shape=1.8, scale=hours, covariance=COVARIANCE)
    return UncertainWay(outlay=UncertainOutlay(mean=outlay, spread=0.2), life=life, bound_hours=9000)


def _futures(tyre: int) -> UncertainComparison:
    return UncertainComparison(
        repair=_way(5000 + tyre % 5000, 3000),
        new=_way(30000, 7000),
        failure=0.1,
        if_fails=900,
        waiting_cost=UncertainOutlay(mean=100, spread=0.3),
        hours_a_year=5500,
        discount_rate=0.09,
    )


def _option(kind: OptionKind, outlay: int, hours: int) -> TyreOption:
    nothing = Money(Decimal(0), "AUD")
    return TyreOption(
        kind=kind,
        outlay=Money(Decimal(outlay), "AUD"),
        hours=Decimal(hours),
        failure=Decimal("0.1"),
        if_fails=nothing,
        salvage=nothing,
        upkeep=nothing,
        wait_hours=Decimal(4),
    )


def _comparison(tyre: int) -> Comparison:
    options = (_option(OptionKind.REPAIR, 5000 + tyre % 5000, 2600), _option(OptionKind.NEW, 30000, 6200))
    waiting = Money(Decimal(100), "AUD")
    terms = Terms(hours_a_year=Decimal(5500), discount_rate=Decimal("0.09"), waiting_cost=waiting)
    return Comparison(terms=terms, options=options)


def main() -> None:
    """Time the odds alone, then the whole: odds, break-evens, sensitivity and advice."""
    began = time.process_time()
    odds = [comparison_odds(_futures(tyre), samples=SAMPLES, seed=tyre) for tyre in range(TYRES)]
    middle = time.process_time()
    for tyre in range(TYRES):
        comparison = _comparison(tyre)
        break_even(comparison)
        sensitivity(comparison, even_factors(Decimal("0.2")))
        advise(comparison, Decimal(str(odds[tyre].repair_cheaper)), ())
    ended = time.process_time()
    sys.stdout.write(f"odds {middle - began:.1f} s, the rest {ended - middle:.1f} s of processor time\n")


if __name__ == "__main__":
    main()
