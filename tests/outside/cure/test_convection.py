"""Convection at a face, against handbook examples and hand-checkable cooling."""

import numpy as np
import pytest

from planner.engineering.heat.faces import INSULATED, Stage, in_air
from planner.engineering.heat.history import Resolution, SlabHistory, slab_history
from planner.engineering.heat.rubber import Layer, Slab
from tests.lib.cures import slab


def plate(
    thickness_m: float, conductivity_w_mk: float, density_kg_m3: float, heat_capacity_j_kgk: float
) -> Slab:
    layer = Layer(
        name="plate",
        thickness_m=thickness_m,
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=density_kg_m3,
        heat_capacity_j_kgk=heat_capacity_j_kgk,
    )
    return Slab(layers=(layer,))


def one_sided(
    what: Slab, *, initial_c: float, air_c: float, coefficient: float, minutes: float
) -> SlabHistory:
    stage = Stage(minutes=minutes, inside=in_air(air_c, coefficient), outside=INSULATED)
    resolution = Resolution(cells=161, step_min=minutes / 400)
    return slab_history(what, initial_c=initial_c, stages=[stage], resolution=resolution)


def test_incropera_example_5_4() -> None:
    """Incropera, Fundamentals of Heat and Mass Transfer, Ex. 5.4: 42.9 °C; exact by series 43.0175 °C.

    h 500, k 63.9, α 18.8e-6, L 0.040 m, −20 → 60 °C, 480 s; ρ cp = 63.9 / 18.8e-6 = 3.39894e6.
    """
    pipe = plate(0.040, 63.9, 7832, 63.9 / 18.8e-6 / 7832)
    history = one_sided(pipe, initial_c=-20, air_c=60, coefficient=500, minutes=8)
    assert history.temperature_c[-1, -1] == pytest.approx(43.0175, abs=0.005)
    assert history.temperature_c[-1, -1] == pytest.approx(42.9, abs=0.15)  # a truncated series in the book


def test_geankoplis_example_5_3_2() -> None:
    """Geankoplis, Transport Processes and Unit Operations, Ex. 5.3-2 (close to rubber), insulated back.

    277.6 → 297.1 K, h 8.52, 5 h: chart 292.2/288.3/287.4 K; exact by series 292.389/288.313/287.169 K.
    """
    butter = plate(0.0462, 0.197, 998, 2300)
    history = one_sided(butter, initial_c=4.45, air_c=23.95, coefficient=8.52, minutes=300)
    told_k = np.array([history.at(depth)[-1] for depth in (0.0, 0.0254, 0.0462)]) + 273.15
    assert told_k == pytest.approx([292.389, 288.313, 287.169], abs=0.005)
    assert told_k == pytest.approx([292.2, 288.3, 287.4], abs=0.3)  # read from a chart in the book


def test_first_term_at_biot_one() -> None:
    """Bi = 1: ζ₁ 0.860334, C₁ 1.119132 (computed): at Fo = 2 the other terms are below 1e-10.

    k/L = 0.2/0.03 = h; t = Fo L²/α = 2 · 0.0009 / 1e-7 s = 300 min; θ = C₁ exp(−ζ₁² Fo).
    """
    history = one_sided(slab(30), initial_c=20, air_c=140, coefficient=0.2 / 0.03, minutes=300)
    theta = (140 - history.temperature_c[-1, -1]) / 120
    assert theta == pytest.approx(1.119132 * np.exp(-(0.860334**2) * 2), abs=2e-5)


def test_cooling_of_sixty_millimetres() -> None:
    """60 mm from 140 °C in air of 25 °C, h 10, k 0.20: face at 100 °C after 12.45, middle after 87.58 min.

    Computed by series.
    """
    air = in_air(25, 10)
    stage = Stage(minutes=100, inside=air, outside=air)
    history = slab_history(
        slab(60), initial_c=140, stages=[stage], resolution=Resolution(cells=161, step_min=0.1)
    )
    for depth_m, minutes in ((0.0, 12.45), (0.03, 87.58)):
        crossed = np.interp(-100, -history.at(depth_m), history.time_min)
        assert crossed == pytest.approx(minutes, abs=0.02)
