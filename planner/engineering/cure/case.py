"""One repair on its heater set: everything an estimate of its cure depends on."""

from dataclasses import dataclass

from planner.domain.cure_limits import ReleasePlace
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure.compound import Compound
from planner.engineering.heat.rubber import CONTACT, Slab
from planner.engineering.limits import Limits

PAD = Limits(0.0, 180.0, "°C")
RISE = Limits(0.05, 50.0, "°C/min")
AMBIENT = Limits(-40.0, 60.0, "°C")
COEFFICIENT = Limits(0.5, 500.0, "W/m2K")
AREA = Limits(0.001, 10.0, "m2")
MARGIN = Limits(1.0, 3.0, "")
PAD_CAPACITY = Limits(0.0, 1e6, "J/K")
PAD_LOSS = Limits(0.0, 100.0, "W/K")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pad:
    """One heat pad from preheat to hold. Defaults are common practice.

    Args:
        preheat_c: when the set is on the tyre and the heat-up starts [°C].
        hold_c: where it settles [°C].
        rise_c_min: how fast it heats up [°C/min].
        contact_m2k_w: resistance between pad and rubber [m2K/W].
        capacity_j_k: heat that the pad takes up for one kelvin [J/K].
        loss_w_k: heat lost to the bay for each kelvin above it [W/K].

    """

    preheat_c: float = 60.0
    hold_c: float = 140.0
    rise_c_min: float = 2.0
    contact_m2k_w: float = 0.0
    capacity_j_k: float = 0.0
    loss_w_k: float = 0.0

    def __post_init__(self) -> None:
        PAD.check("preheat temperature", self.preheat_c)
        PAD.check("hold temperature", self.hold_c)
        RISE.check("rise of the pad", self.rise_c_min)
        CONTACT.check("contact resistance of the pad", self.contact_m2k_w)
        PAD_CAPACITY.check("heat capacity of the pad", self.capacity_j_k)
        PAD_LOSS.check("loss of the pad", self.loss_w_k)

    def minutes_to(self, temperature_c: float) -> float:
        """From preheat to a temperature on the way [°C] → [min]."""
        return max(0.0, (temperature_c - self.preheat_c) / self.rise_c_min)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heating:
    """Both pads and the temperature at which the cure timer starts, once both are there [°C]."""

    inside: Pad = Pad()
    outside: Pad = Pad()
    start_c: float = 120.0

    def __post_init__(self) -> None:
        for pad in (self.inside, self.outside):
            if not pad.preheat_c <= self.start_c <= pad.hold_c:
                raise InvalidValueError(
                    _("the timer's start temperature must lie between preheat and hold of both pads")
                )

    @property
    def timer_min(self) -> float:
        """When the timer starts, after the heat-up starts [min]."""
        return max(pad.minutes_to(self.start_c) for pad in (self.inside, self.outside))

    @property
    def hold_min(self) -> float:
        """When both pads hold, after the heat-up starts [min]."""
        return max(pad.minutes_to(pad.hold_c) for pad in (self.inside, self.outside))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cooling:
    """How the repair cools, pads off: first under the bags, after release in air.

    Args:
        ambient_c: of the bay [°C].
        inside_w_m2k: through pad and bag to the bay, inside, h [W/m2K].
        outside_w_m2k: the same outside [W/m2K].
        air_w_m2k: at both faces after release [W/m2K].
        release_c: pressure is held until the repair is below this [°C].
        place: where that is measured.

    """

    ambient_c: float = 25.0
    inside_w_m2k: float = 10.0
    outside_w_m2k: float = 10.0
    air_w_m2k: float = 10.0
    release_c: float = 100.0
    place: ReleasePlace = ReleasePlace.HOTTEST

    def __post_init__(self) -> None:
        AMBIENT.check("ambient temperature", self.ambient_c)
        for coefficient in (self.inside_w_m2k, self.outside_w_m2k, self.air_w_m2k):
            COEFFICIENT.check("cooling coefficient", coefficient)
        if not self.ambient_c + 5 <= self.release_c <= PAD.high:
            raise InvalidValueError(_("the release temperature must be at least 5 °C above ambient"))


@dataclass(frozen=True, slots=True, kw_only=True)
class CureCase:
    """A repair to cure.

    Args:
        slab: through the repair, from the inside pad to the outside pad.
        compound: what must cure.
        rubber_c: of the repair when the heat-up starts [°C].
        area_m2: under the pads [m2].
        heating: the pads.
        cooling: bags, bay and release.
        margin: the slowest point must get this many times t90 [-].

    """

    slab: Slab
    compound: Compound
    rubber_c: float = 20.0
    area_m2: float = 0.25
    heating: Heating = Heating()
    cooling: Cooling = Cooling()
    margin: float = 1.1

    def __post_init__(self) -> None:
        AMBIENT.check("temperature of the repair", self.rubber_c)
        AREA.check("heated area", self.area_m2)
        MARGIN.check("cure margin", self.margin)

    @property
    def target_min(self) -> float:
        """Equivalent minutes that the slowest point must get [min]."""
        return self.margin * self.compound.t90_min
