"""How long a cure takes, how even it is, when it may be released and what it uses."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from planner.engineering.cure.case import CureCase
from planner.engineering.cure.cooled import air_equivalent_min
from planner.engineering.cure.cure_time import CureEnd, cure_end, end_at
from planner.engineering.cure.energy import CureEnergy, cure_energy
from planner.engineering.cure.heated import LONGEST_MIN, Heated, decay_min, heat
from planner.engineering.heat.tridiagonal import FloatArray
from planner.engineering.limits import Limits

TIMED = Limits(0.0, LONGEST_MIN, "min")
BATCH = 256
"""Repairs marched together: enough to fill the vectors, few enough to stay in the processor's cache."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CurePoint:
    """A depth in the repair and what it is worth at the compound's reference temperature.

    Args:
        depth_m: from the inside face [m].
        equivalent_min: over the whole cure [min].

    """

    depth_m: float
    equivalent_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CureEstimate:
    """What the model says of one cure. Minutes are rounded up.

    Args:
        heat_up_min: from preheat until the timer starts [min].
        timed_min: from the timer's start until the pads go off [min].
        cool_down_min: from pads off until the release temperature at its place [min].
        slowest: the point that cures last, with what it has when released.
        fullest: the point that cures most, with three hours in air after release.
        hottest_c: the highest temperature the rubber meets [°C].
        scorch_share: part of the scorch time that the fastest point used before the timer started [-].
        within_reversion: the fullest point stays within the compound's limits.
        energy: rubber, pads, losses.

    """

    heat_up_min: int
    timed_min: int
    cool_down_min: int
    slowest: CurePoint
    fullest: CurePoint
    hottest_c: float
    scorch_share: float
    within_reversion: bool
    energy: CureEnergy

    @property
    def block_min(self) -> int:
        """From the heat-up's start until release [min]."""
        return self.heat_up_min + self.timed_min + self.cool_down_min


def cure_estimate(case: CureCase) -> CureEstimate:
    """The estimate for one repair.

    Model: one-dimensional conduction from both pads (see `march`), the compound's law added up at every
    depth, and the least timed minutes after which the slowest point has its target when it is released.

    Assumptions: the pads follow straight lines and then hold; they do not go off before both hold; off pads
    and bags let heat out by convection and store none; no heat of reaction; the edges of the repair are not
    modelled, so the middle of a small repair cools sooner than told.

    >>> from planner.engineering.cure.kinetics import TenDegreeRule
    >>> from planner.engineering.cure.compound import Compound
    >>> from planner.engineering.heat.rubber import Layer, Slab
    >>> fill = Layer(
    ...     name="fill", thickness_m=0.04, conductivity_w_mk=0.2, density_kg_m3=1000, heat_capacity_j_kgk=2000
    ... )
    >>> law = TenDegreeRule(reference_c=140, factor=2)
    >>> stock = Compound(name="stock", law=law, t90_min=20, scorch_min=5, reversion_min=240)
    >>> cure_estimate(CureCase(slab=Slab(layers=(fill,)), compound=stock)).heat_up_min
    30
    """
    return cure_estimates([case])[0]


def cure_outcome(case: CureCase, *, timed_min: float) -> CureEstimate:
    """What the model says of a repair whose pads go off at a given time, by a chart or by hand.

    Args:
        case: the repair.
        timed_min: from the timer's start until the pads go off [min].

    Returns:
        the same figures as an estimate; the slowest point may be short of its target.

    """
    return cure_outcomes([case], timed_min=[timed_min])[0]


def cure_outcomes(cases: Sequence[CureCase], *, timed_min: Sequence[float]) -> tuple[CureEstimate, ...]:
    """Outcomes of many repairs, each with its own timed minutes [min], in their order."""
    for minutes in timed_min:
        TIMED.check("timed minutes", minutes)
    found: dict[int, CureEstimate] = {}
    for places in _batches(cases):
        heated = heat([cases[place] for place in places])
        off_min = np.array([cases[place].heating.timer_min + timed_min[place] for place in places])
        while (heated.time_min[-1] < off_min).any():
            heated.hold_on()
        found.update(zip(places, _estimate(heated, end_at(heated, off_min)), strict=True))
    return tuple(found[place] for place in range(len(cases)))


def cure_estimates(cases: Sequence[CureCase]) -> tuple[CureEstimate, ...]:
    """Estimates for many repairs, in their order, marched side by side where layers and law agree."""
    found: dict[int, CureEstimate] = {}
    for places in _batches(cases):
        chosen = [cases[place] for place in places]
        found.update(zip(places, _needed(heat(chosen)), strict=True))
    return tuple(found[place] for place in range(len(cases)))


def _batches(cases: Sequence[CureCase]) -> Iterable[list[int]]:
    """Places of cases that can be marched together, those of like pace beside one another."""
    kinds: dict[object, list[int]] = {}
    for place, case in enumerate(cases):
        kinds.setdefault((len(case.slab.layers), case.compound.law), []).append(place)
    for places in kinds.values():
        places.sort(key=lambda place: decay_min(cases[place]))
        for start in range(0, len(places), BATCH):
            yield places[start : start + BATCH]


def _needed(heated: Heated) -> list[CureEstimate]:
    return _estimate(heated, cure_end(heated))


def _estimate(heated: Heated, end: CureEnd) -> list[CureEstimate]:
    full = end.equivalent_min + air_equivalent_min(heated, end.cooled.cells_c)
    at_timer = heated.snapshot(np.array([case.heating.timer_min for case in heated.cases]))
    return [_one(heated, end, full, at_timer.equivalent_min, row) for row in range(len(heated.cases))]


def _one(heated: Heated, end: CureEnd, full: FloatArray, at_timer: FloatArray, row: int) -> CureEstimate:
    case, off_min = heated.cases[row], float(end.off_min[row])
    fullest = _point(heated, full, row, int(full[row].argmax()))
    hottest_c = max(case.heating.inside.hold_c, case.heating.outside.hold_c)
    return CureEstimate(
        heat_up_min=whole_up(case.heating.timer_min),
        timed_min=whole_up(off_min - case.heating.timer_min),
        cool_down_min=whole_up(float(end.cooled.minutes[row])),
        slowest=_point(heated, end.equivalent_min, row, int(end.equivalent_min[row].argmin())),
        fullest=fullest,
        hottest_c=hottest_c,
        scorch_share=float(at_timer[row].max()) / case.compound.scorch_min,
        within_reversion=within_reversion(case, fullest.equivalent_min, hottest_c),
        energy=cure_energy(case, heat_j_m2=float(end.at_off.heat_j_m2[row]), off_min=off_min),
    )


def within_reversion(case: CureCase, fullest_min: float, hottest_c: float) -> bool:
    """Whether neither equivalent minutes [min] nor temperature [°C] pass the compound's limits."""
    limit_c = case.compound.reversion_c
    return fullest_min <= case.compound.reversion_min and (limit_c is None or hottest_c <= limit_c)


def whole_up(minutes: float) -> int:
    """Minutes round up; a millionth of a minute over does not count [min].

    >>> whole_up(12.2), whole_up(13.0000000001)
    (13, 13)
    """
    return math.ceil(minutes - 1e-6)


def _point(heated: Heated, equivalent_min: FloatArray, row: int, column: int) -> CurePoint:
    return CurePoint(
        depth_m=float(heated.grid.depth_m[row, column]), equivalent_min=float(equivalent_min[row, column])
    )
