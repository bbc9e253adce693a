"""What a repair is made of from the inside pad to the outside pad: layers of rubber and cord."""

from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.limits import Limits

THICKNESS = Limits(1e-4, 0.5, "m")
CONDUCTIVITY = Limits(0.05, 100.0, "W/mK")
DENSITY = Limits(500.0, 9000.0, "kg/m3")
HEAT_CAPACITY = Limits(200.0, 5000.0, "J/kgK")
CONTACT = Limits(0.0, 1.0, "m2K/W")


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the slab with constant properties of its own.

    Args:
        name: what it is: casing, cushion, fill.
        thickness_m: along the heat's way [m].
        conductivity_w_mk: thermal conductivity k [W/mK].
        density_kg_m3: density ρ [kg/m3].
        heat_capacity_j_kgk: specific heat cp [J/kgK].

    Source: filled stocks k 0.20–0.30 W/mK, cp 1600–2000 J/kgK, ρ 1100–1180 kg/m3, from memory; a site
    gives its own. The wide validity range (to metals) lets handbook examples be checked.

    >>> fill = Layer(
    ...     name="fill", thickness_m=0.04, conductivity_w_mk=0.2, density_kg_m3=1000, heat_capacity_j_kgk=1600
    ... )
    >>> fill.diffusivity_m2_s
    1.25e-07

    """

    name: str
    thickness_m: float
    conductivity_w_mk: float
    density_kg_m3: float
    heat_capacity_j_kgk: float

    def __post_init__(self) -> None:
        THICKNESS.check(f"thickness of {self.name}", self.thickness_m)
        CONDUCTIVITY.check(f"conductivity of {self.name}", self.conductivity_w_mk)
        DENSITY.check(f"density of {self.name}", self.density_kg_m3)
        HEAT_CAPACITY.check(f"heat capacity of {self.name}", self.heat_capacity_j_kgk)

    @property
    def volume_capacity_j_m3k(self) -> float:
        """Heat that one cubic metre takes up for one kelvin, ρ cp [J/m3K]."""
        return self.density_kg_m3 * self.heat_capacity_j_kgk

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity α = k / (ρ cp) [m2/s]."""
        return self.conductivity_w_mk / self.volume_capacity_j_m3k


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """Layers from the inside face to the outside face, with a contact resistance between neighbours.

    Args:
        layers: from inside to outside.
        contact_m2k_w: one resistance for each interface, or empty for perfect contact [m2K/W].

    """

    layers: tuple[Layer, ...]
    contact_m2k_w: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= len(self.layers) <= 8:
            raise InvalidValueError(_("a slab must have from 1 to 8 layers"))
        if self.contact_m2k_w and len(self.contact_m2k_w) != len(self.layers) - 1:
            raise InvalidValueError(_("a slab needs one contact resistance for each interface, or none"))
        for resistance in self.contact_m2k_w:
            CONTACT.check("contact resistance", resistance)

    @property
    def thickness_m(self) -> float:
        """All layers together [m]."""
        return sum(layer.thickness_m for layer in self.layers)

    @property
    def capacity_j_m2k(self) -> float:
        """Heat that one square metre of the slab takes up for one kelvin [J/m2K]."""
        return sum(layer.thickness_m * layer.volume_capacity_j_m3k for layer in self.layers)
