"""The odds that repair is cheaper than new, when costs, lives and luck are all uncertain together.

Each sample is one future: both prices, the cost of waiting, whether the repair holds, how long each runs.
What both ways share, such as the cost of waiting, is drawn once for both. The yearly cost of a way is its
present worth over its annuity factor; a repair that fails is followed by a new tyre, with its price and wait.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.life_estimate import Life
from planner.engineering.life_records import Floats

_LEAST_HOURS = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertainOutlay:
    """An outlay by its mean [currency] and its spread as a share of the mean [1], lognormal."""

    mean: float
    spread: float

    def draw(self, random: np.random.Generator, count: int) -> Floats:
        """Random outlays with that mean."""
        if not self.spread or not self.mean:
            return np.full(count, self.mean)
        sigma = float(np.sqrt(np.log1p(self.spread**2)))
        return self.mean * np.exp(sigma * random.standard_normal(count) - sigma**2 / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertainWay:
    """Repair or new: outlay, life up to its bound [h], wait [h], casing worth at the end, upkeep a year."""

    outlay: UncertainOutlay
    life: Life
    bound_hours: float
    wait_hours: float = 0.0
    salvage: float = 0.0
    upkeep: float = 0.0

    def hours(self, random: np.random.Generator, count: int) -> Floats:
        """Random lives within the bound; an hour at least, since a tyre that was fitted has run [h]."""
        drawn = self.life.draw(random, count)
        return np.clip(drawn, _LEAST_HOURS, max(self.bound_hours, _LEAST_HOURS))


@dataclass(frozen=True, slots=True, kw_only=True)
class UncertainComparison:
    """A comparison with its uncertainties; `failure` [1] is the odds that the repair gains nothing."""

    repair: UncertainWay
    new: UncertainWay
    failure: float
    if_fails: float
    waiting_cost: UncertainOutlay
    hours_a_year: float
    discount_rate: float

    def __post_init__(self) -> None:
        if not 0 <= self.failure < 1 or not self.hours_a_year > 0:
            raise InvalidValueError(
                _("odds of failing must be from 0 to less than 1, hours a year more than 0")
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Odds:
    """The share of futures in which repair is cheaper [1], its standard error, and the saving a year in them.

    `saving` holds the 5th, 50th and 95th percentile of new less repair [currency a year].
    """

    repair_cheaper: float
    standard_error: float
    saving: tuple[float, float, float]


def comparison_odds(comparison: UncertainComparison, *, samples: int = 1000, seed: int = 1) -> Odds:
    """The odds from so many seeded futures; the same seed gives the same answer."""
    if samples < 1:
        raise InvalidValueError(_("odds need at least one sample"))
    random = np.random.default_rng(seed)
    saving = _savings(comparison, random, samples)
    share = float(np.mean(saving > 0))
    low, middle, high = np.quantile(saving, (0.05, 0.5, 0.95))
    error = float(np.sqrt(share * (1 - share) / samples))
    quantiles = (float(low), float(middle), float(high))
    return Odds(repair_cheaper=share, standard_error=error, saving=quantiles)


def comparison_odds_many(
    comparisons: Sequence[UncertainComparison], *, samples: int = 1000, seed: int = 1
) -> tuple[Odds, ...]:
    """The odds of many tyres; each has its own seed, so its answer does not depend on its neighbours."""
    return tuple(comparison_odds(each, samples=samples, seed=seed) for each in comparisons)


def _savings(comparison: UncertainComparison, random: np.random.Generator, count: int) -> Floats:
    """New less repair in each future [currency a year]."""
    waiting = comparison.waiting_cost.draw(random, count)
    new_paid = comparison.new.outlay.draw(random, count) + waiting * comparison.new.wait_hours
    repair_paid = comparison.repair.outlay.draw(random, count) + waiting * comparison.repair.wait_hours
    new = _yearly(comparison, comparison.new, new_paid, comparison.new.hours(random, count))
    held = _yearly(comparison, comparison.repair, repair_paid, comparison.repair.hours(random, count))
    lost_paid = repair_paid + comparison.if_fails + new_paid
    lost = _yearly(comparison, comparison.new, lost_paid, comparison.new.hours(random, count))
    repair = np.where(random.uniform(size=count) < comparison.failure, lost, held)
    return np.asarray(new - repair, dtype=np.float64)


def _yearly(comparison: UncertainComparison, way: UncertainWay, paid: Floats, hours: Floats) -> Floats:
    years = hours / comparison.hours_a_year
    if not comparison.discount_rate:
        return (paid - way.salvage) / years + way.upkeep
    factor = np.exp(-np.log1p(comparison.discount_rate) * years)
    charge = comparison.discount_rate / (1 - factor)
    return np.asarray((paid - way.salvage * factor) * charge + way.upkeep, dtype=np.float64)
