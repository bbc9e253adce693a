"""Kaplan–Meier survival of repaired tyres, with its pointwise band.

Model: product-limit estimate, band by the log(−log S) transform.
Source: Kaplan and Meier (1958), J. Am. Stat. Assoc. 53:457, as computed by scipy.stats.ecdf.
"""

import warnings
from dataclasses import dataclass

import numpy as np
from scipy.stats import ecdf

from planner.engineering.life_records import Floats, LifeGroup


@dataclass(frozen=True, slots=True, kw_only=True)
class SurvivalCurve:
    """The share still running after each length, with a band; it falls at `lengths` and is flat between."""

    lengths: Floats
    share: Floats
    low: Floats
    high: Floats

    def at(self, length: float) -> float:
        """The share that runs longer than so long [1]."""
        place = int(np.searchsorted(self.lengths, length, side="right"))
        return 1.0 if place == 0 else float(self.share[place - 1])

    def median(self) -> float | None:
        """The first length at which no more than half still run; None where more than half always do."""
        below = np.flatnonzero(self.share <= 0.5)
        return float(self.lengths[below[0]]) if below.size else None

    def mean_within(self, bound: float) -> float:
        """The mean length, each counted up to `bound` and up to the longest record at most [as lengths]."""
        end = min(bound, float(self.lengths[-1]))
        inside = self.lengths[self.lengths < end]
        steps = np.concatenate(([1.0], self.share[: inside.size]))
        return float(np.sum(steps * np.diff(np.concatenate(([0.0], inside, [end])))))

    def draw(self, random: np.random.Generator, count: int) -> Floats:
        """Random lengths; those that outlast the records get the longest of them."""
        place = np.searchsorted(-self.share, -random.uniform(size=count), side="right")
        return np.asarray(self.lengths[np.minimum(place, self.lengths.size - 1)], dtype=np.float64)


def survival_curve(group: LifeGroup, confidence: float = 0.95) -> SurvivalCurve:
    """The group's Kaplan–Meier curve with its band at the confidence [1]."""
    survival = ecdf(group.censored()).sf
    with warnings.catch_warnings():
        # The band has no width where all or none have failed: filled below.
        warnings.simplefilter("ignore", RuntimeWarning)
        band = survival.confidence_interval(confidence, method="log-log")
    share = np.asarray(survival.probabilities, dtype=np.float64)
    return SurvivalCurve(
        lengths=np.asarray(survival.quantiles, dtype=np.float64),
        share=share,
        low=_filled(band.low, share),
        high=_filled(band.high, share),
    )


def _filled(edge: object, share: Floats) -> Floats:
    # The stubs take each edge for a number; it is another empirical curve.
    band = np.asarray(getattr(edge, "probabilities"), dtype=np.float64)  # noqa: B009
    return np.where(np.isnan(band), share, band)
