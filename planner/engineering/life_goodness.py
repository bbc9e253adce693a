"""Does a Weibull life fit the records? The widest gap to the Kaplan–Meier curve, judged by simulated groups.

Model: parametric bootstrap with the group's own censoring, seeded. Every simulated group is fitted again, so
that the odds allow for a shape and a scale that came from the same records.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planner.engineering.life_curve import survival_curve
from planner.engineering.life_records import Floats, LifeGroup
from planner.engineering.life_weibull import WeibullLife, weibull_likeliest

Draw = Callable[[np.random.Generator, int], Floats]
_LEAST_ODDS = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Goodness:
    """The widest gap between fit and records [1], and the odds of one as wide if the fit were true [1]."""

    gap: float
    odds: float

    @property
    def fits(self) -> bool:
        """Whether the records do not speak against the fit."""
        return self.odds >= _LEAST_ODDS


def goodness(group: LifeGroup, life: WeibullLife, *, resamples: int = 39, seed: int = 1) -> Goodness:
    """The check, from so many simulated groups."""
    gap = _widest_gap(group, life)
    random = np.random.default_rng(seed)
    # In units of the fitted scale the search for each simulated fit is short.
    unit = replace(life, scale=1.0)
    group = replace(group, lengths=group.lengths / life.scale)
    censoring = survival_curve(replace(group, failed=~group.failed))
    gaps = [_simulated_gap(group, unit, censoring.draw, random) for _ in range(resamples)]
    as_wide = sum(simulated >= gap for simulated in gaps)
    return Goodness(gap=gap, odds=(1 + as_wide) / (1 + resamples))


def _widest_gap(group: LifeGroup, life: WeibullLife) -> float:
    curve = survival_curve(group)
    fitted = np.exp(-((curve.lengths / life.scale) ** life.shape))
    before = np.concatenate(([1.0], curve.share[:-1]))
    return float(np.maximum(abs(curve.share - fitted), abs(before - fitted)).max())


def _simulated_gap(
    group: LifeGroup, life: WeibullLife, censoring: Draw, random: np.random.Generator
) -> float:
    """The gap of one simulated group to its own fit; too few failures to fit speak for the widest."""
    count = group.lengths.size
    lengths = life.scale * random.standard_exponential(count) ** (1 / life.shape)
    stops = np.full(count, np.inf) if group.failed.all() else censoring(random, count)
    simulated = replace(group, lengths=np.minimum(lengths, stops), failed=lengths <= stops)
    if np.unique(simulated.lengths[simulated.failed]).size < 2:
        return 1.0
    return _widest_gap(simulated, weibull_likeliest(simulated, life.shape, life.scale))
