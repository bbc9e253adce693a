"""The heated part of many cures side by side: heat-up and hold, kept step by step."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.case import CureCase, Pad
from planner.engineering.cure.equivalent import step_equivalent_min
from planner.engineering.heat.faces import Face, Stage, StageBatch, stage_batch
from planner.engineering.heat.grid import Grid, grid_build
from planner.engineering.heat.march import march
from planner.engineering.heat.tridiagonal import FloatArray

CELLS = 31
BLOCK_STEPS = 20
LONGEST_MIN = 48 * 60.0
"""A cure longer than this is refused [min]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """Where every repair stands at a time of its own: its cells, equivalent minutes, heat taken in."""

    cells_c: FloatArray
    equivalent_min: FloatArray
    heat_j_m2: FloatArray


@dataclass(slots=True)
class Heated:
    """Cures of one kind (layers, law) marched together; lists hold one array for each step."""

    cases: Sequence[CureCase]
    grid: Grid
    step_min: FloatArray
    time_min: list[FloatArray] = field(default_factory=list)
    cells_c: list[FloatArray] = field(default_factory=list)
    equivalent_min: list[FloatArray] = field(default_factory=list)
    heat_j_m2: list[FloatArray] = field(default_factory=list)

    def run(self, stage: StageBatch, steps: int) -> None:
        """March through one stage and keep every step."""
        law = self.cases[0].compound.law
        for step in march(self.grid, self.cells_c[-1], stage, steps):
            self.time_min.append(self.time_min[-1] + step.seconds / 60)
            self.cells_c.append(step.end_c[:, 1:-1])
            self.equivalent_min.append(self.equivalent_min[-1] + step_equivalent_min(law, step))
            self.heat_j_m2.append(self.heat_j_m2[-1] + step.heat_j_m2.sum(axis=1))

    def hold_on(self) -> None:
        """Both pads hold for another block of steps."""
        paced = zip(self.cases, self.step_min * BLOCK_STEPS, strict=True)
        self.run(stage_batch([held(case, minutes) for case, minutes in paced]), BLOCK_STEPS)

    def snapshot(self, time_min: FloatArray) -> Snapshot:
        """Every repair at its own time, in straight lines between steps [min]."""
        times = np.array(self.time_min)
        place = np.clip((times <= time_min).sum(axis=0) - 1, 0, len(times) - 2)
        rows = np.arange(len(time_min))
        share = (time_min - times[place, rows]) / (times[place + 1, rows] - times[place, rows])

        def between(kept: list[FloatArray]) -> FloatArray:
            one = np.stack([kept[at][row] for row, at in enumerate(place)])
            two = np.stack([kept[at + 1][row] for row, at in enumerate(place)])
            line: FloatArray = one + (two - one) * share.reshape(-1, *[1] * (one.ndim - 1))
            return line

        return Snapshot(
            cells_c=between(self.cells_c),
            equivalent_min=between(self.equivalent_min),
            heat_j_m2=between(self.heat_j_m2),
        )

    def enough_min(self, target_min: FloatArray) -> FloatArray:
        """When every point of each repair has its target (repairs, points), by heat alone [min]."""
        short = np.array([(kept - target_min).min(axis=1) for kept in self.equivalent_min])
        times = np.array(self.time_min)
        return np.array([np.interp(0.0, short[:, row], times[:, row]) for row in range(len(self.cases))])


def heat(cases: Sequence[CureCase]) -> Heated:
    """Heat-up and hold until the slowest point of every repair is cured by heat alone.

    Every repair steps at a pace of its own, a fortieth of its slowest decay time, (L/π)²/α.
    """
    grid = grid_build([case.slab for case in cases], cells=CELLS)
    heated = Heated(cases=cases, grid=grid, step_min=_pace_min(cases))
    start = np.array([case.rubber_c for case in cases])
    heated.time_min.append(np.zeros(len(cases)))
    heated.cells_c.append(np.repeat(start[:, None], grid.capacity_j_m2k.shape[1], axis=1))
    heated.equivalent_min.append(np.zeros(grid.depth_m.shape))
    heated.heat_j_m2.append(np.zeros(len(cases)))
    for stage in zip(*(heat_up(case) for case in cases), strict=True):
        heated.run(stage_batch(stage), _steps(stage, heated.step_min))
    heated.hold_on()
    _hold(heated)
    return heated


def heat_up(case: CureCase) -> tuple[Stage, ...]:
    """Two straight stretches from preheat until both pads hold; either may be empty."""
    pads = (case.heating.inside, case.heating.outside)
    corners = sorted([0.0, *(pad.minutes_to(pad.hold_c) for pad in pads)])
    return tuple(
        Stage(minutes=end - start, inside=_rising(pads[0], start, end), outside=_rising(pads[1], start, end))
        for start, end in pairwise(corners)
    )


def held(case: CureCase, minutes: float) -> Stage:
    """Both pads at their hold temperatures."""
    inside, outside = (
        Face(start_c=pad.hold_c, end_c=pad.hold_c, resistance_m2k_w=pad.contact_m2k_w)
        for pad in (case.heating.inside, case.heating.outside)
    )
    return Stage(minutes=minutes, inside=inside, outside=outside)


def _rising(pad: Pad, start_min: float, end_min: float) -> Face:
    at = [min(pad.hold_c, pad.preheat_c + pad.rise_c_min * minutes) for minutes in (start_min, end_min)]
    return Face(start_c=at[0], end_c=at[1], resistance_m2k_w=pad.contact_m2k_w)


def _hold(heated: Heated) -> None:
    target = np.array([case.target_min for case in heated.cases])
    while (waiting := heated.equivalent_min[-1].min(axis=1) < target).any():
        if (heated.time_min[-1][waiting] > LONGEST_MIN).any():
            raise InvalidValueError(
                _(
                    "the slowest point is not cured within {longest_min:.0f} h: check thickness, hold "
                    "temperature and t90, or ask the material's maker",
                    longest_min=LONGEST_MIN / 60,
                )
            )
        heated.hold_on()


def _pace_min(cases: Sequence[CureCase]) -> FloatArray:
    return np.array([min(5.0, max(0.25, decay_min(case) / 40)) for case in cases])


def decay_min(case: CureCase) -> float:
    """Slowest decay of the slab as if its layers' resistances and capacities were spread evenly [min]."""
    slab = case.slab
    resistance = sum(layer.thickness_m / layer.conductivity_w_mk for layer in slab.layers)
    return resistance * slab.capacity_j_m2k / np.pi**2 / 60


def _steps(stages: Sequence[Stage], step_min: FloatArray) -> int:
    """Enough steps for the repair that needs the most; one where the stretch is empty for all."""
    ratio = max(stage.minutes / pace for stage, pace in zip(stages, step_min, strict=True))
    return 1 if ratio == 0 else max(4, int(np.ceil(ratio)))
