"""Energy of one cure: what the rubber and the pads take up and what is lost to the bay."""

from dataclasses import dataclass

from planner.engineering.cure.case import CureCase, Pad

JOULE_PER_KWH = 3.6e6


@dataclass(frozen=True, slots=True, kw_only=True)
class CureEnergy:
    """Energy from the preheat of the pads until they go off; a metered figure of the site wins.

    Args:
        rubber_kwh: into the repair through both faces [kWh].
        pads_kwh: to heat the pads from ambient to hold [kWh].
        losses_kwh: from the pads to the bay during heat-up and hold [kWh].

    """

    rubber_kwh: float
    pads_kwh: float
    losses_kwh: float

    @property
    def total_kwh(self) -> float:
        """All together [kWh]."""
        return self.rubber_kwh + self.pads_kwh + self.losses_kwh


def warming_kwh(*, mass_kg: float, heat_capacity_j_kgk: float, rise_c: float) -> float:
    """Energy to warm a mass evenly, m cp ΔT.

    Args:
        mass_kg: of the rubber [kg].
        heat_capacity_j_kgk: cp [J/kgK].
        rise_c: how much warmer [°C].

    Returns:
        energy [kWh].

    >>> round(warming_kwh(mass_kg=23.0, heat_capacity_j_kgk=1900, rise_c=120), 6)
    1.456667

    """
    return mass_kg * heat_capacity_j_kgk * rise_c / JOULE_PER_KWH


def cure_energy(case: CureCase, *, heat_j_m2: float, off_min: float) -> CureEnergy:
    """Energy of a cure whose pads go off after `off_min` [min] with `heat_j_m2` in the rubber [J/m2].

    Model: pads C (T_hold − T_ambient); losses G ∫ (T_pad − T_ambient) dt. Assumption: the pad is evenly warm.
    """
    pads = (case.heating.inside, case.heating.outside)
    ambient = case.cooling.ambient_c
    return CureEnergy(
        rubber_kwh=heat_j_m2 * case.area_m2 / JOULE_PER_KWH,
        pads_kwh=sum(pad.capacity_j_k * (pad.hold_c - ambient) for pad in pads) / JOULE_PER_KWH,
        losses_kwh=sum(_loss_j(pad, ambient, off_min) for pad in pads) / JOULE_PER_KWH,
    )


def _loss_j(pad: Pad, ambient_c: float, off_min: float) -> float:
    rising_min = pad.minutes_to(pad.hold_c)
    below = rising_min * (pad.hold_c - pad.preheat_c) / 2
    return pad.loss_w_k * 60 * (off_min * (pad.hold_c - ambient_c) - below)
