"""Air at both faces of a slab against the exact series, its roots found by a reference library.

Incropera, Fundamentals of Heat and Mass Transfer, eqs. 5.42a-c (the numbers of the equations from memory).
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from planner.engineering.heat.faces import Stage, in_air
from planner.engineering.heat.history import Resolution, slab_history
from tests.lib.cures import slab

TERMS = 40


def series(biot: float, fourier: float, place: float) -> float:
    """Σ C cos(ζ x/L) exp(−ζ² Fo), C = 4 sin ζ / (2 ζ + sin 2ζ), over the roots of ζ tan ζ = Bi."""
    roots = np.array([_root(biot, number) for number in range(TERMS)])
    weights = 4 * np.sin(roots) / (2 * roots + np.sin(2 * roots))
    return float((weights * np.cos(roots * place) * np.exp(-(roots**2) * fourier)).sum())


def _root(biot: float, number: int) -> float:
    low, high = number * np.pi, (number + 0.5) * np.pi
    return float(brentq(lambda zeta: zeta * np.sin(zeta) - biot * np.cos(zeta), low, high))


@pytest.mark.parametrize("biot", [0.3, 1.5, 6.0])
@pytest.mark.parametrize("fourier", [0.2, 0.6, 1.5])
def test_a_slab_in_air_cools_by_the_series(biot: float, fourier: float) -> None:
    """60 mm, k 0.2, α 1e-7: half 0.03 m; h = Bi k / 0.03; t = Fo · 0.0009 / 1e-7 s = Fo · 150 min."""
    air = in_air(25, biot * 0.2 / 0.03)
    minutes = fourier * 150
    resolution = Resolution(cells=161, step_min=minutes / 600)
    stage = Stage(minutes=minutes, inside=air, outside=air)
    history = slab_history(slab(60), initial_c=140, stages=[stage], resolution=resolution)
    for depth_m in (0.0, 0.015, 0.03):
        left = (history.at(depth_m)[-1] - 25) / 115
        assert left == pytest.approx(series(biot, fourier, 1 - depth_m / 0.03), abs=3e-5)
