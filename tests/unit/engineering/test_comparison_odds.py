"""Odds that repair is the cheaper, from joint uncertainty."""

from dataclasses import replace

import numpy as np
import pytest

from planner.domain.errors import InvalidValueError
from planner.engineering.comparison_odds import (
    UncertainComparison,
    UncertainOutlay,
    UncertainWay,
    comparison_odds,
    comparison_odds_many,
)
from planner.engineering.life_weibull import weibull_assumed


def sure(amount: float) -> UncertainOutlay:
    return UncertainOutlay(mean=amount, spread=0)


def way(outlay: float, mean_hours: float, shape: float = 1.0, **terms: float) -> UncertainWay:
    bound = terms.pop("bound_hours", np.inf)
    life = weibull_assumed(mean_hours, shape)
    return UncertainWay(outlay=sure(outlay), life=life, bound_hours=bound, **terms)


def futures(repair: UncertainWay, new: UncertainWay, **terms: float) -> UncertainComparison:
    return UncertainComparison(
        repair=repair,
        new=new,
        failure=terms.get("failure", 0),
        if_fails=terms.get("if_fails", 0),
        waiting_cost=sure(terms.get("waiting_cost", 0)),
        hours_a_year=5000,
        discount_rate=terms.get("discount_rate", 0),
    )


def test_two_exponential_lives_in_closed_form() -> None:
    # Repair is cheaper where T_new / T_repair < c_new / c_repair = 4; for exponential lives with means
    # 8000 and 4000, P(T_new / T_repair < r) = r / (r + 8000 / 4000) = 4 / 6.
    odds = comparison_odds(futures(way(5000, 4000), way(20000, 8000)), samples=100_000)
    assert odds.repair_cheaper == pytest.approx(2 / 3, abs=4 * odds.standard_error)


def test_a_steady_future_is_certain_and_its_saving_is_arithmetic() -> None:
    steady = futures(way(6000, 4000, 5000), way(20000, 8000, 5000))
    odds = comparison_odds(steady)
    assert odds.repair_cheaper == 1
    assert odds.saving[1] == pytest.approx(12500 - 7500, rel=0.01)  # 5000 h a year at 2.50 and 1.50


def test_failing_is_followed_by_a_new_tyre() -> None:
    # In a steady world repair is cheaper exactly where it does not fail.
    steady = futures(way(6000, 4000, 5000), way(20000, 8000, 5000), failure=0.25, if_fails=500)
    odds = comparison_odds(steady, samples=20_000)
    assert odds.repair_cheaper == pytest.approx(0.75, abs=4 * odds.standard_error)
    # 6000 + 500 + 20000 − 20000 = 6500 more over 8000 h, at 5000 h a year.
    assert odds.saving[0] == pytest.approx(-6500 / 8000 * 5000, rel=0.02)


def test_the_bound_cuts_a_life() -> None:
    unbounded = comparison_odds(futures(way(6000, 4000, 5000), way(20000, 8000, 5000)))
    bounded = comparison_odds(futures(way(6000, 4000, 5000, bound_hours=1000), way(20000, 8000, 5000)))
    assert (unbounded.repair_cheaper, bounded.repair_cheaper) == (1, 0)


def test_interest_and_salvage_follow_the_annuity() -> None:
    # One year at 10 %: 1000 × 1.1 − 100 = 1000; two years: 2100 / 1.7355 = 1210.
    steady = futures(way(1000, 5000, 1e5, salvage=100), way(2100, 10000, 1e5), discount_rate=0.1)
    assert comparison_odds(steady).saving[1] == pytest.approx(1210 - 1000, rel=0.001)


def test_waiting_is_shared_by_both_ways() -> None:
    waits = futures(
        way(6000, 4000, 5000, wait_hours=10), way(20000, 8000, 5000, wait_hours=200), waiting_cost=100
    )
    # 7000 / 4000 h against 40000 / 8000 h.
    assert comparison_odds(waits).saving[1] == pytest.approx((5 - 1.75) * 5000, rel=0.01)


def test_the_same_seed_gives_the_same_odds_whoever_stands_beside() -> None:
    one = futures(way(9000, 4000), way(20000, 8000), failure=0.1)
    other = replace(one, failure=0.3)
    assert comparison_odds_many([one, other])[0] == comparison_odds(one) == comparison_odds_many([one])[0]
    assert comparison_odds(one, seed=2) != comparison_odds(one)


def test_an_uncertain_outlay_keeps_its_mean_and_spread() -> None:
    drawn = UncertainOutlay(mean=5000, spread=0.3).draw(np.random.default_rng(1), 200_000)
    assert drawn.mean() == pytest.approx(5000, rel=0.01)
    assert drawn.std() == pytest.approx(1500, rel=0.02)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="odds of failing"):
        futures(way(1, 1), way(1, 1), failure=1)
    with pytest.raises(InvalidValueError, match="at least one sample"):
        comparison_odds(futures(way(1, 1), way(1, 1)), samples=0)
