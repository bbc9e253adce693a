"""Spare cover of one tyre size: when the spares run out, and with what odds.

Model: tyres come off the machines as a Poisson process and each takes a spare. Deliveries come whole on their
day. A repair comes back on its day with the odds that it holds, else never. The size has run out from the
first day on which more tyres have come off than spares were there.

Assumptions:
- removals are independent of each other and their rate stays as it is over the days looked at;
- what arrives on a day can be fitted from that day on;
- repairs hold or fail independently of each other.

Source: Poisson demand on a stock and its marginal analysis are textbook inventory theory (from memory; in
Sherbrooke, Optimal Inventory Modeling of Systems, for one item at one place). The recursion is our own.
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """`number` tyres that come together on a day (1: the first one looked at) with these odds [1]."""

    day: int
    number: int = 1
    odds: float = 1.0

    def __post_init__(self) -> None:
        if self.day < 1 or self.number < 1 or not 0 <= self.odds <= 1:
            raise InvalidValueError(
                _("an arrival is one or more tyres, on day 1 or later, at odds from 0 to 1")
            )


def poisson_odds(mean: float, most: int) -> Floats:
    """The odds of 0, 1, ..., `most` events where `mean` are expected: e^−m m^k / k! [1].

    >>> [round(float(each), 4) for each in poisson_odds(2.0, 3)]
    [0.1353, 0.2707, 0.2707, 0.1804]
    """
    if mean < 0 or most < 0:
        raise InvalidValueError(_("neither an expected number nor a count can be below nothing"))
    if mean == 0:
        return np.concatenate([[1.0], np.zeros(most)])
    counts = np.arange(most + 1)
    logs = counts * math.log(mean) - mean - np.array([math.lgamma(count + 1) for count in counts])
    return np.asarray(np.exp(logs), dtype=np.float64)


def run_out_odds(*, spares: int, demand_a_day: float, arrivals: Sequence[Arrival] = (), days: int) -> Floats:
    """The odds that the size has run out by the end of day 1, 2, ..., `days` [1].

    Args:
        spares: tyres that are ready now; below nothing, as many machines wait already.
        demand_a_day: tyres that come off in a day, on average.
        arrivals: what comes when, with its odds.
        days: how many days to look ahead.

    >>> [round(float(each), 4) for each in run_out_odds(spares=1, demand_a_day=0.5, days=2)]
    [0.0902, 0.2642]

    """
    if spares < 0:
        return np.ones(days)
    by_day: dict[int, list[Arrival]] = defaultdict(list)
    for arrival in arrivals:
        by_day[arrival.day].append(arrival)
    most = spares + sum(arrival.number for arrival in arrivals)
    a_day = _a_day(poisson_odds(demand_a_day, most))
    stock = np.zeros(most + 1)
    stock[spares] = 1.0
    left = np.empty(days)
    for day in range(1, days + 1):
        for arrival in by_day[day]:
            stock = _arrived(stock, arrival)
        stock = a_day @ stock
        left[day - 1] = stock.sum()
    return np.clip(1.0 - left, 0.0, 1.0)


def run_out_day(odds: Floats, level: float) -> int | None:
    """The first day by whose end the odds reach the level [1]; None where they never do in these days."""
    reached = np.nonzero(odds >= level)[0]
    return int(reached[0]) + 1 if reached.size else None


def further_tyre_odds(
    *, spares: int, demand_a_day: float, arrivals: Sequence[Arrival] = (), days: int, further: int
) -> Floats:
    """The odds that a first, second, ... further spare is wanted by each day; one row for each [1].

    The k-th further one is wanted once the size has run out although k − 1 more had been there.
    """
    rows = [
        run_out_odds(spares=spares + more, demand_a_day=demand_a_day, arrivals=arrivals, days=days)
        for more in range(further)
    ]
    return np.array(rows) if rows else np.empty((0, days))


def _arrived(stock: Floats, arrival: Arrival) -> Floats:
    """The stock's odds after an arrival that may fail to come."""
    more = np.zeros_like(stock)
    more[arrival.number :] = stock[: -arrival.number]
    return np.asarray(arrival.odds * more + (1 - arrival.odds) * stock, dtype=np.float64)


def _a_day(asked: Floats) -> Floats:
    """What a day's removals do to the stock's odds: where more are asked for than are there, it is lost."""
    fewer = np.subtract.outer(np.arange(asked.size), np.arange(asked.size))
    return np.asarray(np.where(fewer >= 0, asked[np.abs(fewer)], 0.0).T, dtype=np.float64)
