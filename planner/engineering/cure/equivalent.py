"""Equivalent minutes: what a history of temperature is worth at the reference temperature."""

from collections.abc import Iterable

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.kinetics import CureLaw
from planner.engineering.heat.march import MIDDLE, Step
from planner.engineering.heat.tridiagonal import FloatArray

PIECE_C = 2.0
"""A straight stretch is cut so that no piece changes more than this [°C]."""

GAUSS_PLACE, GAUSS_WEIGHT = np.polynomial.legendre.leggauss(3)

WEIGHT_MIDDLE = 1 / (6 * MIDDLE * (1 - MIDDLE))
WEIGHT_END = 0.5 - MIDDLE * WEIGHT_MIDDLE
WEIGHT_START = 1 - WEIGHT_MIDDLE - WEIGHT_END


def step_equivalent_min(law: CureLaw, step: Step) -> FloatArray:
    """Equivalent minutes that one step adds at every point (repairs, points) [min].

    The quadrature through start, γ and end of the step is exact for parabolas.
    """
    start, middle, end = (law.rate(each) for each in (step.start_c, step.middle_c, step.end_c))
    mean: FloatArray = WEIGHT_START * start + WEIGHT_MIDDLE * middle + WEIGHT_END * end
    return mean * (step.seconds / 60)[:, None]


def steps_equivalent_min(law: CureLaw, steps: Iterable[Step]) -> FloatArray:
    """Equivalent minutes of a whole history at every point (repairs, points) [min]."""
    total = sum(step_equivalent_min(law, step) for step in steps)
    return np.asarray(total, dtype=np.float64)


def series_equivalent_min(law: CureLaw, time_min: FloatArray, temperature_c: FloatArray) -> FloatArray:
    """Equivalent minutes added between neighbouring readings, joined by straight lines.

    Model: ∫ rate(T) dt by three-point Gauss quadrature on pieces of at most 2 °C. Adding equivalent minutes
    over a varying temperature is published practice (ASTM STP47209S, 1965, abstract).

    Args:
        law: the compound's law.
        time_min: never going back; two readings at one time make a jump [min].
        temperature_c: at those times [°C].

    Returns:
        one figure for each stretch between readings [min].

    >>> from planner.engineering.cure.kinetics import TenDegreeRule
    >>> law = TenDegreeRule(reference_c=140, factor=2)
    >>> ramp = series_equivalent_min(law, np.array([0.0, 40.0]), np.array([60.0, 140.0]))
    >>> round(float(ramp.sum()), 6)
    7.185298

    """
    if len(time_min) < 2 or len(time_min) != len(temperature_c):
        raise InvalidValueError(_("equivalent minutes need two or more readings, each with a time"))
    if not (np.isfinite(temperature_c).all() and (np.diff(time_min) >= 0).all()):
        raise InvalidValueError(_("readings must be numbers in order of time"))
    rise = np.diff(temperature_c)
    pieces = np.maximum(1, np.ceil(np.abs(rise) / PIECE_C)).astype(int)
    owner = np.repeat(np.arange(len(rise)), pieces)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    share = (place[:, None] + (GAUSS_PLACE + 1) / 2) / pieces[owner, None]
    rate = law.rate(temperature_c[:-1][owner, None] + share * rise[owner, None]) @ (GAUSS_WEIGHT / 2)
    minutes = np.diff(time_min)[owner] / pieces[owner]
    added = np.bincount(owner, weights=rate * minutes, minlength=len(rise))
    return added.astype(np.float64)
