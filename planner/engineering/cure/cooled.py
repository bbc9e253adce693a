"""The cool-down of many cures side by side: under the bags until release, then in air."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.cure_limits import ReleasePlace
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.case import CureCase
from planner.engineering.cure.equivalent import step_equivalent_min
from planner.engineering.cure.heated import Heated, decay_min
from planner.engineering.heat.faces import Stage, in_air, stage_batch
from planner.engineering.heat.march import Step, march
from planner.engineering.heat.tridiagonal import FloatArray

BLOCK_STEPS = 6
LONGEST_MIN = 48 * 60.0
"""A cool-down longer than this is refused [min]."""

AIR_MIN = 180.0
"""How long the cure in air is followed after release [min]."""

AIR_STEPS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class CooledDown:
    """What the cool-down of each repair took and added.

    Attributes:
        minutes: from pads off until released [min].
        equivalent_min: added at every point until then (repairs, points) [min].
        cells_c: when the last repair of the batch was released [°C].

    """

    minutes: FloatArray
    equivalent_min: FloatArray
    cells_c: FloatArray


def place_c(points_c: FloatArray, place: ReleasePlace) -> FloatArray:
    """The temperature that decides the release, of each repair [°C]."""
    if place is ReleasePlace.HOTTEST:
        return np.asarray(points_c.max(axis=1), dtype=np.float64)
    column = {ReleasePlace.INSIDE_FACE: 0, ReleasePlace.OUTSIDE_FACE: -1}.get(place, points_c.shape[1] // 2)
    return points_c[:, column]


def _rows_by_place(cases: Sequence[CureCase]) -> dict[ReleasePlace, slice | list[int]]:
    """The rows that are measured at each place; one slice where all agree."""
    places = [case.cooling.place for case in cases]
    if len(set(places)) == 1:
        return {places[0]: slice(None)}
    return {place: [row for row, other in enumerate(places) if other is place] for place in set(places)}


class _Release:
    """Follows each repair to its own release; the part of a step after it does not count."""

    def __init__(self, cases: Sequence[CureCase]) -> None:
        self.law = cases[0].compound.law
        self.rows = _rows_by_place(cases)
        self.limit_c = np.array([case.cooling.release_c for case in cases])
        self.minutes = np.zeros(len(cases))
        self.hot = np.ones(len(cases), dtype=bool)
        self.equivalent_min: FloatArray | float = 0.0

    def decide_c(self, points_c: FloatArray) -> FloatArray:
        """The temperature that decides, at the place each case names [°C]."""
        decided: FloatArray = np.zeros(len(points_c))
        for place, rows in self.rows.items():
            decided[rows] = place_c(points_c[rows], place)
        return decided

    def follow(self, step: Step) -> None:
        """Count the part of the step before each release."""
        before, after = self.decide_c(step.start_c), self.decide_c(step.end_c)
        cross = (before - self.limit_c) / np.where(before > after, before - after, np.inf)
        share = np.where(after < self.limit_c, np.clip(cross, 0.0, 1.0), 1.0) * self.hot
        self.minutes = self.minutes + share * step.seconds / 60
        added = step_equivalent_min(self.law, step)
        self.equivalent_min = self.equivalent_min + share[:, None] * added
        self.hot = self.hot & (after >= self.limit_c)


def cool(heated: Heated, cells_c: FloatArray) -> CooledDown:
    """Cool every repair under its bags, from a state of its own, until it is below release where measured.

    Args:
        heated: the batch; its grid, cases and pace serve here too.
        cells_c: state when the pads go off (repairs, cells) [°C].

    Returns:
        minutes and equivalent minutes of the cool-down.

    """
    release = _Release(heated.cases)
    under_bags = stage_batch([_under_bags(case) for case in heated.cases])
    spent = 0.0
    while release.hot.any():
        for step in march(heated.grid, cells_c, under_bags, BLOCK_STEPS):
            release.follow(step)
            cells_c = step.end_c[:, 1:-1]
        spent += float(under_bags.seconds.max()) / 60
        if spent > LONGEST_MIN and release.hot.any():
            raise InvalidValueError(
                _(
                    "the repair is not below its release temperature within {longest_min:.0f} h: check "
                    "the cooling coefficients",
                    longest_min=LONGEST_MIN / 60,
                )
            )
    return CooledDown(
        minutes=release.minutes,
        equivalent_min=np.asarray(release.equivalent_min, dtype=np.float64),
        cells_c=cells_c,
    )


def air_equivalent_min(heated: Heated, cells_c: FloatArray) -> FloatArray:
    """Equivalent minutes that three hours in air after release still add at every point [min]."""
    law = heated.cases[0].compound.law
    stages = [_in_air(case) for case in heated.cases]
    steps = march(heated.grid, cells_c, stage_batch(stages), AIR_STEPS)
    total = sum(step_equivalent_min(law, step) for step in steps)
    return np.asarray(total, dtype=np.float64)


def _under_bags(case: CureCase) -> Stage:
    """One block of cooling, its steps a twentieth of the repair's slowest decay under its bags."""
    ambient, inside, outside = case.cooling.ambient_c, case.cooling.inside_w_m2k, case.cooling.outside_w_m2k
    decay = decay_min(case) + case.slab.capacity_j_m2k / (inside + outside) / 60
    minutes = BLOCK_STEPS * min(10.0, decay / 20)
    return Stage(minutes=minutes, inside=in_air(ambient, inside), outside=in_air(ambient, outside))


def _in_air(case: CureCase) -> Stage:
    face = in_air(case.cooling.ambient_c, case.cooling.air_w_m2k)
    return Stage(minutes=AIR_MIN, inside=face, outside=face)
