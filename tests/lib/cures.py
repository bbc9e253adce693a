"""Repairs of an invented site for tests of the cure."""

import math
from typing import Any

from planner.engineering.cure.case import CureCase
from planner.engineering.cure.compound import Compound
from planner.engineering.cure.kinetics import TenDegreeRule
from planner.engineering.heat.rubber import Layer, Slab

DIFFUSIVITY_M2_S = 1e-7
DOUBLING = TenDegreeRule(reference_c=140, factor=2)
STOCK = Compound(name="stock", law=DOUBLING, t90_min=20, scorch_min=5, reversion_min=240)


def layer(thickness_mm: float, *, conductivity_w_mk: float = 0.2, name: str = "fill") -> Layer:
    """Rubber of α = 1e-7 m²/s at 0.2 W/mK."""
    return Layer(
        name=name,
        thickness_m=thickness_mm / 1000,
        conductivity_w_mk=conductivity_w_mk,
        density_kg_m3=1000,
        heat_capacity_j_kgk=2000,
    )


def slab(*thickness_mm: float) -> Slab:
    """A slab of equal rubber in layers."""
    return Slab(layers=tuple(layer(each) for each in thickness_mm))


def case(thickness_mm: float = 40.0, **changes: Any) -> CureCase:
    """A repair of one layer on pads of common practice."""
    return CureCase(slab=slab(thickness_mm), compound=STOCK, **changes)


def order(errors: list[float]) -> float:
    """Order of convergence from errors at halved steps: the last halving."""
    return math.log2(abs(errors[-2] / errors[-1]))
