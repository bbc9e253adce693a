"""Order of convergence and conservation of the conduction model."""

import numpy as np
import pytest

from planner.engineering.heat.faces import Face, Stage, in_air, pressed
from planner.engineering.heat.history import Resolution, slab_history
from planner.engineering.heat.rubber import Slab
from tests.lib.cures import layer, order, slab

MIDDLE_C = 83.0615047544
"""60 mm, 20 → 140 °C, 60 min, computed by series to 1e-8."""

STEP = Stage(minutes=60, inside=pressed(140), outside=pressed(140))
PROGRAMME = (
    Stage(minutes=30, inside=Face(start_c=60, end_c=120), outside=Face(start_c=50, end_c=120)),
    Stage(minutes=90, inside=pressed(140), outside=Face(start_c=140, end_c=140, resistance_m2k_w=0.01)),
    Stage(minutes=60, inside=in_air(25, 10), outside=in_air(15, 20)),
)
LAYERED = Slab(
    layers=(layer(20, name="casing"), layer(2, conductivity_w_mk=0.15, name="cushion"), layer(38)),
    contact_m2k_w=(0.0, 0.005),
)


def middle_c(resolution: Resolution) -> float:
    history = slab_history(slab(60), initial_c=20, stages=[STEP], resolution=resolution)
    return float(history.at(0.03)[-1])


def test_second_order_in_space() -> None:
    errors = [middle_c(Resolution(cells=cells, step_min=0.02)) - MIDDLE_C for cells in (11, 23, 47)]
    assert order(errors) == pytest.approx(2, abs=0.15)


def test_second_order_in_time_across_a_jump() -> None:
    """Against the same grid with far smaller steps, so that only time's error is left."""
    exact = middle_c(Resolution(cells=41, step_min=0.01))
    errors = [middle_c(Resolution(cells=41, step_min=step_min)) - exact for step_min in (4, 2, 1)]
    assert order(errors) == pytest.approx(2, abs=0.15)


def test_second_order_in_time_through_a_whole_programme() -> None:
    """Ramp, jump to hold, jump to air: the order holds across both jumps."""

    def after(step_min: float) -> float:
        resolution = Resolution(cells=61, step_min=step_min)
        return float(
            slab_history(slab(60), initial_c=20, stages=PROGRAMME, resolution=resolution).at(0.02)[-1]
        )

    exact = after(0.02)
    assert order([after(step_min) - exact for step_min in (3, 1.5, 0.75)]) == pytest.approx(2, abs=0.2)


@pytest.mark.parametrize("what", [slab(60), LAYERED], ids=["one layer", "three layers with contact"])
def test_energy_balance(what: Slab) -> None:
    """What came in through the faces is what the slab holds, to 1e-6 of what moved."""
    history = slab_history(what, initial_c=20, stages=PROGRAMME)
    moved = np.abs(history.heat_in_j_m2).max()
    assert np.abs(history.heat_in_j_m2 - history.stored_j_m2).max() < 1e-6 * moved


def test_heat_in_the_end_is_capacity_times_rise() -> None:
    """ρ cp L ΔT = 1000 · 2000 · 0.06 · 120 = 14.4 MJ/m²."""
    long = Stage(minutes=3000, inside=pressed(140), outside=pressed(140))
    history = slab_history(slab(60), initial_c=20, stages=[long])
    assert history.heat_in_j_m2[-1] == pytest.approx(14.4e6, rel=1e-9)
