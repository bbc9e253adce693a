"""What the measured faces were worth at the slowest point of the repair."""

from dataclasses import dataclass, replace

import numpy as np

from planner.engineering.cure.case import CureCase
from planner.engineering.cure.cooled import place_c
from planner.engineering.cure.equivalent import step_equivalent_min
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.plan import CurePlan
from planner.engineering.cure_log.span import CureSpan, bridged_pads
from planner.engineering.heat.faces import StageBatch
from planner.engineering.heat.grid import grid_build
from planner.engineering.heat.march import march
from planner.engineering.heat.rubber import Slab
from planner.engineering.heat.tridiagonal import FloatArray

DIFFUSIVITY_SHARES = (0.7, 1.0, 1.3)
"""The band: rubber that conducts 30 % worse, as told, 30 % better [-]."""

CELLS = 31
STEP_MIN = 1.0
MOST_STEPS = 1500


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedWorth:
    """Equivalent minutes at the slowest point, from the measured faces.

    Args:
        least_min: if the rubber conducts 30 % worse, each gap at its cooler end [min].
        likely_min: as told, gaps bridged in straight lines [min].
        most_min: if it conducts 30 % better [min].
        depth_m: of the slowest point, from the inside face [m].
        target_min: what it must have [min].
        release_c: where the plan measures it when the pressure was let go, if the log shows that [°C].

    """

    least_min: float
    likely_min: float
    most_min: float
    depth_m: float
    target_min: float
    release_c: float | None

    @property
    def surely_enough(self) -> bool:
        """Whether even the least reaches the target."""
        return self.least_min >= self.target_min


def logged_worth(log: CureLog, plan: CurePlan, span: CureSpan, case: CureCase) -> LoggedWorth:
    """Equivalent minutes at the slowest point from the start of the log until its end or the release.

    Model: the conduction of `march` with the measured pads as faces, read every minute.

    Assumptions: the sensors tell the pads' own temperature; the repair starts evenly at the case's
    temperature; after release nothing is counted.
    """
    stop = len(log.time_min) if span.released is None else span.released + 1
    times = _times(log.time_min[:stop])
    faces = _faces(log, plan, stop, times)
    slabs = [_conducting(case.slab, share) for share in DIFFUSIVITY_SHARES]
    grid = grid_build(slabs, cells=CELLS)
    cells = np.full(grid.capacity_j_m2k.shape, case.rubber_c)
    worth, last_c = np.zeros(grid.depth_m.shape), np.zeros(grid.depth_m.shape)
    for place, seconds in enumerate(np.diff(times) * 60):
        stage = _stage(case, faces, place, float(seconds))
        for step in march(grid, cells, stage, 1):
            worth += step_equivalent_min(case.compound.law, step)
            cells, last_c = step.end_c[:, 1:-1], step.end_c
    least, likely, most = worth.min(axis=1)
    return LoggedWorth(
        least_min=float(least),
        likely_min=float(likely),
        most_min=float(most),
        depth_m=float(grid.depth_m[1, worth[1].argmin()]),
        target_min=case.target_min,
        release_c=None if span.released is None else float(place_c(last_c[1:2], plan.release_place)[0]),
    )


def _times(time_min: FloatArray) -> FloatArray:
    length = float(time_min[-1] - time_min[0])
    steps = int(min(MOST_STEPS, max(4, np.ceil(length / STEP_MIN))))
    return np.linspace(time_min[0], time_min[-1], steps + 1)


def _faces(log: CureLog, plan: CurePlan, stop: int, times: FloatArray) -> FloatArray:
    """Face temperatures (times, repairs, faces) [°C]."""
    pads = [pad[:stop] for pad in bridged_pads(log)]
    told = log.time_min[:stop]
    likely = np.stack([np.interp(times, told, pad) for pad in pads], axis=1)
    least = likely.copy()
    for before, after in log.silences(plan.gap_min):
        if after < stop:
            within = (times > told[before]) & (times < told[after])
            least[within] = [min(pad[before], pad[after]) for pad in pads]
    return np.stack([least, likely, likely], axis=1)


def _stage(case: CureCase, faces: FloatArray, place: int, seconds: float) -> StageBatch:
    contact = (case.heating.inside.contact_m2k_w, case.heating.outside.contact_m2k_w)
    repairs = len(DIFFUSIVITY_SHARES)
    return StageBatch(
        seconds=np.full(repairs, seconds),
        start_c=faces[place],
        end_c=faces[place + 1],
        resistance_m2k_w=np.tile(np.array(contact), (repairs, 1)),
    )


def _conducting(slab: Slab, share: float) -> Slab:
    layers = [replace(layer, conductivity_w_mk=layer.conductivity_w_mk * share) for layer in slab.layers]
    return replace(slab, layers=tuple(layers))
