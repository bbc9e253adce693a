"""How long a repaired tyre still runs, with the records or the assumption that it rests on."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from planner.engineering.life_curve import SurvivalCurve, survival_curve
from planner.engineering.life_goodness import Goodness, goodness
from planner.engineering.life_records import (
    LEAST_FAILURES,
    Floats,
    LifeBasis,
    LifeGroup,
    LifeMeasure,
    LifeRecord,
    life_group,
)
from planner.engineering.life_weibull import WeibullLife, weibull_assumed, weibull_fit


class Life(Protocol):
    """A distribution of lengths: a curve of records or a fitted law."""

    def at(self, length: float) -> float:
        """The share that runs longer than so long [1]."""

    def mean_within(self, bound: float) -> float:
        """The mean length, each counted up to `bound` at most [h or km]."""

    def draw(self, random: np.random.Generator, count: int) -> Floats:
        """Random lengths [h or km]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LifePrior:
    """What the site assumes where it has too few records: the mean [h or km] and the Weibull shape [1]."""

    mean: float
    shape: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedLife:
    """A group of records with its curve, its fit and the check of the fit."""

    group: LifeGroup
    curve: SurvivalCurve
    fit: WeibullLife
    goodness: Goodness

    @property
    def shape_band(self) -> tuple[float, float]:
        """95 % band of the fitted shape [1]."""
        return self.fit.parameter_bands()[0]

    @property
    def scale_band(self) -> tuple[float, float]:
        """95 % band of the fitted scale [h or km]."""
        return self.fit.parameter_bands()[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeEstimate:
    """A life, what it rests on, and the records behind it; none where it is the site's assumption."""

    basis: LifeBasis
    measure: LifeMeasure
    life: Life
    records: RecordedLife | None

    @property
    def assumed(self) -> bool:
        """Whether it is the site's assumption and not its records."""
        return self.basis is LifeBasis.ASSUMPTION


def life_estimate(
    records: Sequence[LifeRecord],
    *,
    zone: str,
    size_class: str,
    prior: LifePrior,
    measure: LifeMeasure = LifeMeasure.HOURS,
    least_failures: int = LEAST_FAILURES,
) -> LifeEstimate:
    """The life from the nearest records that suffice, or from the prior, which is marked as an assumption."""
    group = life_group(
        records, zone=zone, size_class=size_class, measure=measure, least_failures=least_failures
    )
    if group is None or np.unique(group.lengths[group.failed]).size < 2:
        assumed = weibull_assumed(prior.mean, prior.shape)
        return LifeEstimate(basis=LifeBasis.ASSUMPTION, measure=measure, life=assumed, records=None)
    recorded = recorded_life(group)
    life: Life = recorded.fit if recorded.goodness.fits else recorded.curve
    return LifeEstimate(basis=group.basis, measure=measure, life=life, records=recorded)


def recorded_life(group: LifeGroup) -> RecordedLife:
    """The curve, the fit and its check for one group."""
    return _recorded(group.basis, group.measure, tuple(group.lengths), tuple(group.failed))


# The check simulates, which takes about a second: once for each group of records, however many tyres ask.
@lru_cache(maxsize=128)
def _recorded(
    basis: LifeBasis, measure: LifeMeasure, lengths: tuple[float, ...], failed: tuple[bool, ...]
) -> RecordedLife:
    group = LifeGroup(basis=basis, measure=measure, lengths=np.array(lengths), failed=np.array(failed))
    fit = weibull_fit(group)
    return RecordedLife(group=group, curve=survival_curve(group), fit=fit, goodness=goodness(group, fit))
