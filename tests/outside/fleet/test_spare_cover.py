"""Spare cover against scipy's Poisson law, printed Poisson tables and every history of small cases."""

import doctest
from itertools import product

import numpy as np
import pytest
from scipy.stats import poisson

from planner.domain.errors import InvalidValueError
from planner.engineering import spare_cover
from planner.engineering.spare_cover import (
    Arrival,
    further_tyre_odds,
    poisson_odds,
    run_out_day,
    run_out_odds,
)


@pytest.mark.parametrize("mean", [0.0, 0.04, 1.0, 7.5, 60.0])
def test_the_odds_of_a_count_are_scipys(mean: float) -> None:
    assert poisson_odds(mean, 40) == pytest.approx(poisson.pmf(np.arange(41), mean), rel=1e-9, abs=1e-300)


@pytest.mark.parametrize(
    ("mean", "stock", "covered"),
    # Cumulative Poisson tables as printed in statistics texts (from memory), to four places.
    [(1.0, 2, 0.9197), (4.0, 7, 0.9489), (2.0, 4, 0.9473), (10.0, 15, 0.9513)],
)
def test_a_stock_covers_what_the_printed_tables_say(mean: float, stock: int, covered: float) -> None:
    odds = run_out_odds(spares=stock, demand_a_day=mean, days=1)
    assert 1 - odds[0] == pytest.approx(covered, abs=5e-5)


@pytest.mark.parametrize(("spares", "rate"), [(0, 0.02), (1, 0.1), (3, 0.1), (8, 0.4)])
def test_without_arrivals_it_has_run_out_once_more_came_off_than_were_there(spares: int, rate: float) -> None:
    # A stock that is only taken from runs out by day t exactly where N(t) > spares, N(t) ~ Poisson(rate t).
    odds = run_out_odds(spares=spares, demand_a_day=rate, days=60)
    assert odds == pytest.approx(poisson.sf(spares, rate * np.arange(1, 61)), abs=1e-12)


@pytest.mark.parametrize(
    ("spares", "rate", "arrivals"),
    [
        (0, 0.7, [Arrival(day=2)]),
        (1, 0.9, [Arrival(day=2, odds=0.6), Arrival(day=2, odds=0.5), Arrival(day=3, number=2)]),
        (2, 1.3, [Arrival(day=1, number=2), Arrival(day=4, odds=0.9)]),
    ],
)
def test_with_arrivals_it_is_the_sum_over_every_history(
    spares: int, rate: float, arrivals: list[Arrival]
) -> None:
    days = 4
    assert run_out_odds(spares=spares, demand_a_day=rate, arrivals=arrivals, days=days)[-1] == pytest.approx(
        1 - _lasting(spares, rate, arrivals, days), abs=1e-9
    )


def _lasting(spares: int, rate: float, arrivals: list[Arrival], days: int) -> float:
    """The odds of every history in which no day asks for more than is there, added up one by one."""
    most = spares + sum(arrival.number for arrival in arrivals)
    total = 0.0
    for coming in product((True, False), repeat=len(arrivals)):
        weight = float(
            np.prod([a.odds if came else 1 - a.odds for a, came in zip(arrivals, coming, strict=True)])
        )
        for asked in product(range(most + 1), repeat=days):
            left, lasts = spares, True
            for day, number in enumerate(asked, start=1):
                here = zip(arrivals, coming, strict=True)
                left += sum(a.number for a, came in here if came and a.day == day) - number
                lasts = lasts and left >= 0
            if lasts:
                total += weight * float(np.prod(poisson.pmf(asked, rate)))
    return total


def test_the_day_is_the_first_that_reaches_the_odds() -> None:
    odds = run_out_odds(spares=1, demand_a_day=0.1, days=60)
    day = run_out_day(odds, 0.5)
    # The median of the second arrival of a Poisson process is 1.6783 / rate (Erlang, from memory): in day 17.
    assert day == 17
    assert run_out_day(odds, 0.9999) is None
    assert run_out_day(run_out_odds(spares=-1, demand_a_day=0.0, days=3), 0.9) == 1


def test_each_further_tyre_is_wanted_less_than_the_one_before() -> None:
    wanted = further_tyre_odds(spares=1, demand_a_day=0.1, days=30, further=3)
    # Three expected in 30 days: the k-th further one is wanted where more than k come off.
    assert wanted[:, -1] == pytest.approx(poisson.sf([1, 2, 3], 3.0), abs=1e-12)


def test_more_spares_and_arrivals_never_hurt() -> None:
    bare = run_out_odds(spares=2, demand_a_day=0.2, days=40)
    for more in (
        run_out_odds(spares=3, demand_a_day=0.2, days=40),
        run_out_odds(spares=2, demand_a_day=0.2, arrivals=[Arrival(day=9, odds=0.8)], days=40),
    ):
        assert (more <= bare + 1e-12).all()
        assert (np.diff(more) >= -1e-12).all()


@pytest.mark.parametrize("wrong", [{"day": 0}, {"day": 1, "number": 0}, {"day": 1, "odds": 1.5}])
def test_an_arrival_that_can_not_be_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(InvalidValueError, match="on day 1 or later"):
        Arrival(**wrong)  # type: ignore[arg-type]


def test_its_examples_hold() -> None:
    assert doctest.testmod(spare_cover).failed == 0
