"""Two layers, which have no closed form of use, against the py-pde library."""

import numpy as np
import pytest
from pde.fields import ScalarField
from pde.grids.cartesian import CartesianGrid
from pde.pdes.base import PDEBase

from planner.engineering.heat.faces import Stage, pressed
from planner.engineering.heat.history import Resolution, slab_history
from planner.engineering.heat.rubber import Layer, Slab

THIN_M, THICK_M = 0.02, 0.04
CASING = Layer(
    name="casing", thickness_m=THIN_M, conductivity_w_mk=0.3, density_kg_m3=1150, heat_capacity_j_kgk=1700
)
FILL = Layer(
    name="fill", thickness_m=THICK_M, conductivity_w_mk=0.18, density_kg_m3=1100, heat_capacity_j_kgk=1900
)
MINUTES = 60.0
CELLS = 60


class LayeredHeat(PDEBase):  # type: ignore[no-untyped-call]
    """∂T/∂t = div(k grad T) / (ρ cp) with k and ρ cp by layer, interfaces on cell faces."""

    def __init__(self, grid: CartesianGrid) -> None:
        super().__init__()
        casing = grid.axes_coords[0] < THIN_M
        self.capacity = np.where(casing, CASING.volume_capacity_j_m3k, FILL.volume_capacity_j_m3k)
        conductivity = np.where(casing, CASING.conductivity_w_mk, FILL.conductivity_w_mk)
        self.between = 2 / (1 / conductivity[1:] + 1 / conductivity[:-1])
        self.edge = (conductivity[0], conductivity[-1])
        self.width = float(grid.discretization[0])

    def evolution_rate(self, state: ScalarField, t: float = 0) -> ScalarField:  # type: ignore[override]
        cells = state.data
        inner = self.between * np.diff(cells) / self.width
        first = 2 * self.edge[0] * (cells[0] - 140) / self.width
        last = 2 * self.edge[1] * (140 - cells[-1]) / self.width
        flux = np.concatenate([[first], inner, [last]])
        return ScalarField(state.grid, np.diff(flux) / self.width / self.capacity)


@pytest.fixture(scope="module")
def reference() -> tuple[np.ndarray, np.ndarray]:
    """Depths and temperatures after an hour from py-pde's explicit stepping."""
    grid = CartesianGrid([(0, THIN_M + THICK_M)], CELLS)
    start = ScalarField(grid, 20.0)
    solved = LayeredHeat(grid).solve(
        start,
        t_range=MINUTES * 60,
        dt=2.0,
        solver="runge-kutta",
        adaptive=False,
        tracker=None,
        backend="numpy",
    )
    assert isinstance(solved, ScalarField)
    return grid.axes_coords[0], solved.data


def test_two_layers_equal_the_reference_library(reference: tuple[np.ndarray, np.ndarray]) -> None:
    depth_m, temperature_c = reference
    stage = Stage(minutes=MINUTES, inside=pressed(140), outside=pressed(140))
    history = slab_history(
        Slab(layers=(CASING, FILL)),
        initial_c=20,
        stages=[stage],
        resolution=Resolution(cells=120, step_min=0.25),
    )
    ours = np.interp(depth_m, history.depth_m, history.temperature_c[-1])
    assert ours == pytest.approx(temperature_c, abs=0.1)
    assert np.ptp(temperature_c) > 30  # far from settled, so the comparison says something
