"""Temperatures through a slab over a whole programme of stages: the plain door to the conduction model."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.engineering.heat.faces import TEMPERATURE, Stage, stage_batch
from planner.engineering.heat.grid import Grid, grid_build
from planner.engineering.heat.march import Step, march
from planner.engineering.heat.rubber import Slab
from planner.engineering.heat.tridiagonal import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolution:
    """How finely a slab is solved.

    Args:
        cells: about how many cells over the thickness [-].
        step_min: the longest step [min].

    """

    cells: int = 41
    step_min: float = 1.0

    def steps(self, minutes: float) -> int:
        """Steps for a stage of so many minutes; at least four, to resolve the jump at its start."""
        return max(4, math.ceil(minutes / self.step_min - 1e-9))


STANDARD = Resolution()


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabHistory:
    """What one slab went through.

    Attributes:
        depth_m: the points told of, from the inside face [m].
        time_min: after the start [min].
        temperature_c: (times, points) [°C].
        heat_in_j_m2: what came in through both faces since the start, at each time [J/m2].
        stored_j_m2: what the cells hold more than at the start, at each time [J/m2].
        steps: the steps themselves, for whoever integrates over them.

    """

    depth_m: FloatArray
    time_min: FloatArray
    temperature_c: FloatArray
    heat_in_j_m2: FloatArray
    stored_j_m2: FloatArray
    steps: tuple[Step, ...]

    def at(self, depth_m: float) -> FloatArray:
        """Temperature at a depth from the inside face [m], in straight lines between points [°C]."""
        return np.array([np.interp(depth_m, self.depth_m, row) for row in self.temperature_c])


def slab_history(
    slab: Slab, *, initial_c: float, stages: Sequence[Stage], resolution: Resolution = STANDARD
) -> SlabHistory:
    """Temperatures at every depth of one slab through a programme of stages.

    Args:
        slab: layers and contacts.
        initial_c: even temperature at the start [°C].
        stages: what the faces meet, one after another.
        resolution: cells and steps.

    Returns:
        the history; see `march` for model and assumptions.

    >>> from planner.engineering.heat.faces import pressed
    >>> from planner.engineering.heat.rubber import Layer
    >>> fill = Layer(
    ...     name="fill", thickness_m=0.06, conductivity_w_mk=0.2, density_kg_m3=1000, heat_capacity_j_kgk=2000
    ... )
    >>> hold = Stage(minutes=120, inside=pressed(140), outside=pressed(140))
    >>> history = slab_history(Slab(layers=(fill,)), initial_c=20, stages=[hold])
    >>> round(float(history.at(0.03)[-1]), 1)
    118.8

    """
    TEMPERATURE.check("initial temperature", initial_c)
    grid = grid_build([slab], cells=resolution.cells)
    steps = tuple(_steps(grid, initial_c, stages, resolution))
    first = np.full((1, grid.depth_m.shape[1]), float(initial_c))
    rows = np.concatenate([first, *(step.end_c for step in steps)])
    heat = np.array([0.0, *(float(step.heat_j_m2.sum()) for step in steps)])
    return SlabHistory(
        depth_m=grid.depth_m[0],
        time_min=np.cumsum([0.0, *(float(step.seconds[0]) / 60 for step in steps)]),
        temperature_c=rows,
        heat_in_j_m2=np.cumsum(heat),
        stored_j_m2=(rows[:, 1:-1] - initial_c) @ grid.capacity_j_m2k[0],
        steps=steps,
    )


def _steps(grid: Grid, initial_c: float, stages: Sequence[Stage], resolution: Resolution) -> list[Step]:
    cells = np.full(grid.capacity_j_m2k.shape, float(initial_c))
    steps: list[Step] = []
    for stage in stages:
        for step in march(grid, cells, stage_batch([stage]), resolution.steps(stage.minutes)):
            steps.append(step)
            cells = step.end_c[:, 1:-1]
    return steps
