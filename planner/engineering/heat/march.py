"""Stepping the heat equation through one stage, second order in space and time."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planner.engineering.heat.faces import StageBatch
from planner.engineering.heat.grid import Grid
from planner.engineering.heat.tridiagonal import Factor, FloatArray, factor

MIDDLE = 2 - math.sqrt(2)
"""Place of the inner point of each step, γ: the value for which both halves share one matrix [-]."""

WEIGHT_OUTER = math.sqrt(2) / 4
WEIGHT_END = 1 - math.sqrt(2) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of every repair: temperatures at the grid's points when it starts, inside it, when it ends.

    Attributes:
        seconds: length of the step, one for each repair [s].
        start_c: just after any jump of the faces [°C].
        middle_c: at γ of the step [°C].
        end_c: just before any jump [°C].
        heat_j_m2: what came in through (inside, outside) face [J/m2].

    """

    seconds: FloatArray
    start_c: FloatArray
    middle_c: FloatArray
    end_c: FloatArray
    heat_j_m2: FloatArray


class _Marcher:
    """The constant parts of one stage: matrix, face conductances, capacities."""

    def __init__(self, grid: Grid, stage: StageBatch, steps: int) -> None:
        self.grid, self.stage, self.steps = grid, stage, steps
        self.seconds = stage.seconds / steps
        self.face_w_m2k = 1 / (grid.face_resistance_m2k_w + stage.resistance_m2k_w)
        self.pull_s = (MIDDLE / 2 * self.seconds)[:, None]
        self.matrix = self._factor()

    def _factor(self) -> Factor:
        between = self.grid.conductance_w_m2k
        total = np.zeros_like(self.grid.capacity_j_m2k)
        total[:, :-1] += between
        total[:, 1:] += between
        total[:, 0] += self.face_w_m2k[:, 0]
        total[:, -1] += self.face_w_m2k[:, 1]
        return factor(self.grid.capacity_j_m2k + self.pull_s * total, -self.pull_s * between)

    def source_c(self, share: float) -> FloatArray:
        """Temperatures beyond the faces after a share of the stage [°C]."""
        return self.stage.start_c + share * (self.stage.end_c - self.stage.start_c)

    def inflow(self, cells_c: FloatArray, source_c: FloatArray) -> FloatArray:
        """Heat that comes in through each face [W/m2]."""
        return self.face_w_m2k * (source_c - cells_c[:, :: cells_c.shape[1] - 1])

    def points(self, cells_c: FloatArray, inflow_w_m2: FloatArray) -> FloatArray:
        """Temperatures at inside face, cell centres and outside face [°C]."""
        points = np.empty_like(self.grid.depth_m)
        points[:, 1:-1] = cells_c
        ends = points.shape[1] - 1
        points[:, ::ends] = points[:, 1 : ends : ends - 2] + inflow_w_m2 * self.grid.face_resistance_m2k_w
        return points

    def gain(self, cells_c: FloatArray, inflow_w_m2: FloatArray) -> FloatArray:
        """Heat that each cell gains [W/m2]."""
        between = self.grid.conductance_w_m2k * (cells_c[:, 1:] - cells_c[:, :-1])
        gain = np.empty_like(cells_c)
        gain[:, :-1] = between
        gain[:, -1] = inflow_w_m2[:, 1]
        gain[:, 0] += inflow_w_m2[:, 0]
        gain[:, 1:] -= between
        return gain

    def settle(self, stored_j_m2: FloatArray, source_c: FloatArray) -> FloatArray:
        """Solve one implicit half with the faces at their new temperatures [°C]."""
        drive = self.face_w_m2k * source_c * self.pull_s
        stored_j_m2[:, 0] += drive[:, 0]
        stored_j_m2[:, -1] += drive[:, 1]
        return self.matrix.solve(stored_j_m2)

    def step(self, cells_c: FloatArray, count: int) -> tuple[FloatArray, Step]:
        """One TR-BDF2 step: trapezoidal to γ, then the backward formula over the whole step."""
        capacity = self.grid.capacity_j_m2k
        starts, inner, ends = (self.source_c((count + share) / self.steps) for share in (0, MIDDLE, 1))
        flow_start = self.inflow(cells_c, starts)
        half = self.settle(capacity * cells_c + self.pull_s * self.gain(cells_c, flow_start), inner)
        blend = (half - (1 - MIDDLE) ** 2 * cells_c) / (MIDDLE * (2 - MIDDLE))
        new = self.settle(capacity * blend, ends)
        flow_half, flow_end = self.inflow(half, inner), self.inflow(new, ends)
        heat = WEIGHT_OUTER * (flow_start + flow_half) + WEIGHT_END * flow_end
        return new, Step(
            seconds=self.seconds,
            start_c=self.points(cells_c, flow_start),
            middle_c=self.points(half, flow_half),
            end_c=self.points(new, flow_end),
            heat_j_m2=heat * self.seconds[:, None],
        )


def march(grid: Grid, cells_c: FloatArray, stage: StageBatch, steps: int) -> Iterator[Step]:
    """Step every repair through one stage in `steps` equal steps of its own length.

    Model: ρ cp ∂T/∂t = ∂/∂x (k ∂T/∂x) by TR-BDF2, second order, L-stable, so that a jump of a face at the
    start of a stage is damped and the order stays two (Bank et al., IEEE Trans. CAD 4:436, 1985; Hosea and
    Shampine, Appl. Numer. Math. 20:21, 1996: both from memory).

    Assumptions: one dimension; properties constant with temperature; no heat of reaction.

    Args:
        grid: the slabs.
        cells_c: temperature of each cell at the start; not changed (repairs, cells) [°C].
        stage: what the faces meet.
        steps: how many steps [-].

    """
    marcher = _Marcher(grid, stage, steps)
    for count in range(steps):
        cells_c, step = marcher.step(cells_c, count)
        yield step
