"""Bands of a cure estimate when properties of rubber, bay and contact are uncertain."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.stats import qmc

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.case import AMBIENT, CureCase, Pad
from planner.engineering.cure.estimate import cure_estimates, cure_outcomes
from planner.engineering.heat.rubber import Layer, Slab
from planner.engineering.heat.tridiagonal import FloatArray
from planner.engineering.limits import Limits

SHARE = Limits(0.0, 0.9, "")
AMBIENT_SPREAD = Limits(0.0, 30.0, "°C")


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """How far each property may lie from what the case says, evenly spread and independent.

    Args:
        diffusivity_share: of every layer's diffusivity, through its conductivity [-].
        ambient_c: of the bay and of the repair at the start [°C].
        contact_share: of the pads' contact resistance [-].

    """

    diffusivity_share: float = 0.3
    ambient_c: float = 5.0
    contact_share: float = 0.5

    def __post_init__(self) -> None:
        SHARE.check("spread of the diffusivity", self.diffusivity_share)
        AMBIENT_SPREAD.check("spread of the ambient temperature", self.ambient_c)
        SHARE.check("spread of the contact resistance", self.contact_share)


@dataclass(frozen=True, slots=True, kw_only=True)
class MinuteBand:
    """A figure that half of the samples stay within, and one that nine in ten stay within [min]."""

    p50_min: int
    p90_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CureBands:
    """Bands of what a cure takes.

    Args:
        timed: the timed minutes that the model would need.
        cool_down: after the planned minutes.
        block: heat-up, planned minutes and cool-down together.
        enough: in what share of the samples the planned minutes cure the slowest point [-].
        samples: how many [-].

    """

    timed: MinuteBand
    cool_down: MinuteBand
    block: MinuteBand
    enough: float
    samples: int


def cure_bands(
    case: CureCase,
    *,
    planned_min: int | None = None,
    uncertainty: Uncertainty | None = None,
    samples: int = 200,
    seed: int = 0,
) -> CureBands:
    """Bands from seeded Latin hypercube samples of the uncertain properties.

    Args:
        case: the repair with its best figures.
        planned_min: timed minutes by a chart; without them each sample takes what it needs [min].
        uncertainty: how far the figures may be off; common practice where not given.
        samples: how many [-].
        seed: the same seed gives the same bands [-].

    Returns:
        P50 and P90, each a minute that was sampled, so rounded up.

    """
    if not 20 <= samples <= 100_000:
        raise InvalidValueError(_("samples must be from 20 to 100000"))
    cases = sampled_cases(case, uncertainty or Uncertainty(), samples=samples, seed=seed)
    needed = cure_estimates(cases)
    cured = needed if planned_min is None else cure_outcomes(cases, timed_min=[planned_min] * samples)
    enough = sum(one.timed_min >= two.timed_min for one, two in zip(cured, needed, strict=True))
    return CureBands(
        timed=minute_band([each.timed_min for each in needed]),
        cool_down=minute_band([each.cool_down_min for each in cured]),
        block=minute_band([each.block_min for each in cured]),
        enough=enough / samples,
        samples=samples,
    )


def sampled_cases(
    case: CureCase, uncertainty: Uncertainty, *, samples: int, seed: int
) -> tuple[CureCase, ...]:
    """The case with its uncertain properties drawn anew for each sample."""
    draws = qmc.LatinHypercube(d=3, rng=np.random.default_rng(seed)).random(samples) * 2 - 1
    return tuple(_sampled(case, uncertainty, draw) for draw in draws)


def minute_band(minutes: Sequence[int]) -> MinuteBand:
    """P50 and P90 of whole minutes, each the next higher one that occurs.

    >>> minute_band(list(range(1, 11)))
    MinuteBand(p50_min=6, p90_min=10)
    """
    p50, p90 = np.quantile(np.array(minutes), [0.5, 0.9], method="higher")
    return MinuteBand(p50_min=int(p50), p90_min=int(p90))


def _sampled(case: CureCase, uncertainty: Uncertainty, draw: FloatArray) -> CureCase:
    diffusivity = 1 + uncertainty.diffusivity_share * float(draw[0])
    warmer = uncertainty.ambient_c * float(draw[1])
    contact = 1 + uncertainty.contact_share * float(draw[2])
    inside, outside = (_touching(pad, contact) for pad in (case.heating.inside, case.heating.outside))
    return replace(
        case,
        slab=_conducting(case.slab, diffusivity),
        rubber_c=_bay_c(case.rubber_c + warmer),
        heating=replace(case.heating, inside=inside, outside=outside),
        cooling=replace(case.cooling, ambient_c=_bay_c(case.cooling.ambient_c + warmer)),
    )


def _bay_c(ambient_c: float) -> float:
    return min(AMBIENT.high, max(AMBIENT.low, ambient_c))


def _touching(pad: Pad, factor: float) -> Pad:
    return replace(pad, contact_m2k_w=pad.contact_m2k_w * factor)


def _conducting(slab: Slab, factor: float) -> Slab:
    def scaled(layer: Layer) -> Layer:
        return replace(layer, conductivity_w_mk=layer.conductivity_w_mk * factor)

    return replace(slab, layers=tuple(scaled(layer) for layer in slab.layers))
