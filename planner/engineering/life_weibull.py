"""Weibull life of repaired tyres from right-censored records, with its band.

Model: S(t) = exp(−(t / scale)^shape), maximum likelihood, normal band on log(−log S) from the
observed information.
Source: NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1; fit by scipy.stats.weibull_min.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy import special, stats

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.life_records import Floats, LifeGroup

_NO_DOUBT: Floats = np.zeros((2, 2))
_STEP = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WeibullLife:
    """A Weibull life; `covariance` is that of (log shape, log scale), zero where both are assumed."""

    shape: float
    scale: float
    covariance: Floats

    def __post_init__(self) -> None:
        if not (self.shape > 0 and self.scale > 0):
            raise InvalidValueError(_("the shape and the scale of a life must be more than 0"))

    def at(self, length: float) -> float:
        """The share that runs longer than so long [1]."""
        return float(stats.weibull_min.sf(length, self.shape, scale=self.scale))

    def median(self) -> float:
        """The length that half outlast [as scale]."""
        return float(self.scale * np.log(2.0) ** (1 / self.shape))

    def mean_within(self, bound: float) -> float:
        """The mean length, each counted up to `bound`: scale Γ(1 + 1/k) P(1 + 1/k, z) + bound S(bound)."""
        order = 1 + 1 / self.shape
        if np.isinf(bound):
            return self.scale * float(special.gamma(order))
        reached = (bound / self.scale) ** self.shape
        partial = special.gamma(order) * special.gammainc(order, reached)
        return self.scale * float(partial) + bound * self.at(bound)

    def band(self, lengths: Floats, confidence: float = 0.95) -> tuple[Floats, Floats]:
        """Low and high of the share that runs longer than each length, all more than 0 [1]."""
        height = self.shape * (np.log(lengths) - np.log(self.scale))
        slope = np.stack([height, np.full_like(height, -self.shape)])
        spread = np.sqrt(np.einsum("in,ij,jn->n", slope, self.covariance, slope))
        reach = float(stats.norm.ppf((1 + confidence) / 2)) * spread
        return np.exp(-np.exp(height + reach)), np.exp(-np.exp(height - reach))

    def parameter_bands(self, confidence: float = 0.95) -> tuple[tuple[float, float], tuple[float, float]]:
        """Low and high of shape [1] and scale [as scale], normal in their logarithms."""
        reach = float(stats.norm.ppf((1 + confidence) / 2)) * np.sqrt(np.diag(self.covariance))
        low, high = np.exp(-reach), np.exp(reach)
        shape = (self.shape * float(low[0]), self.shape * float(high[0]))
        return shape, (self.scale * float(low[1]), self.scale * float(high[1]))

    def draw(self, random: np.random.Generator, count: int) -> Floats:
        """Random lengths, each from a shape and a scale drawn from their own uncertainty."""
        shape, scale = self._drawn_parameters(random, count)
        return np.asarray(scale * random.standard_exponential(count) ** (1 / shape), dtype=np.float64)

    def _drawn_parameters(
        self, random: np.random.Generator, count: int
    ) -> tuple[Floats | float, Floats | float]:
        if not self.covariance.any():
            return self.shape, self.scale
        logs = np.linalg.cholesky(self.covariance) @ random.standard_normal((2, count))
        return self.shape * np.exp(logs[0]), self.scale * np.exp(logs[1])


def weibull_assumed(mean: float, shape: float) -> WeibullLife:
    """A life that the site assumes by its mean [h or km] and shape [1], with no doubt of its own."""
    if not (mean > 0 and shape > 0):
        raise InvalidValueError(_("an assumed life needs a mean and a shape of more than 0"))
    return WeibullLife(shape=shape, scale=mean / float(special.gamma(1 + 1 / shape)), covariance=_NO_DOUBT)


def weibull_fit(group: LifeGroup) -> WeibullLife:
    """The likeliest Weibull life with its doubt; UserError where no two failures differ."""
    likeliest = weibull_likeliest(group, 1.0, float(group.lengths.mean()))
    fitted = np.log([likeliest.shape, likeliest.scale])
    return replace(likeliest, covariance=_covariance(group, fitted))


def weibull_likeliest(group: LifeGroup, shape: float, scale: float) -> WeibullLife:
    """The likeliest Weibull life, searched from a shape and a scale, as if it were sure."""
    if np.unique(group.lengths[group.failed]).size < 2:
        raise InvalidValueError(_("a Weibull life needs at least two failures after different lengths"))
    fitted = stats.weibull_min.fit(group.censored(), shape, scale=scale, floc=0)
    return WeibullLife(shape=float(fitted[0]), scale=float(fitted[2]), covariance=_NO_DOUBT)


def negative_log_likelihood(group: LifeGroup, shape: float, scale: float) -> float:
    """−ln L of a Weibull life on the group's records [1]."""
    ran = (group.lengths / scale) ** shape
    density = np.log(shape / group.lengths) + np.log(ran)
    return float(ran.sum() - density[group.failed].sum())


def _covariance(group: LifeGroup, fitted: Floats) -> Floats:
    """The inverse of the information at the fit, by central differences in (log shape, log scale)."""

    def objective(*logs: float) -> float:
        return negative_log_likelihood(group, *(float(value) for value in np.exp(logs)))

    corners = [[_second_difference(objective, fitted, one, two) for two in (0, 1)] for one in (0, 1)]
    return np.asarray(np.linalg.inv(np.array(corners)), dtype=np.float64)


def _second_difference(objective: Callable[..., float], at: Floats, one: int, two: int) -> float:
    steps = np.eye(2) * _STEP
    signs = ((1, 1), (1, -1), (-1, 1), (-1, -1))
    total = sum(a * b * objective(*(at + a * steps[one] + b * steps[two])) for a, b in signs)
    return float(total / (4 * _STEP**2))
