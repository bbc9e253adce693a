"""Units that loggers write, turned into °C and kPa."""

from enum import StrEnum

from planner.domain.units import KPA_PER_PSI
from planner.engineering.heat.tridiagonal import FloatArray


class TemperatureUnit(StrEnum):
    """What a logger writes temperatures in."""

    CELSIUS = "celsius"
    FAHRENHEIT = "fahrenheit"


class PressureUnit(StrEnum):
    """What a logger writes pressures in."""

    KPA = "kpa"
    PSI = "psi"
    BAR = "bar"


_TO_KPA = {PressureUnit.KPA: 1.0, PressureUnit.PSI: KPA_PER_PSI, PressureUnit.BAR: 100.0}


def celsius(reading: FloatArray, unit: TemperatureUnit) -> FloatArray:
    """Temperatures as logged → [°C].

    >>> import numpy as np
    >>> celsius(np.array([248.0, 284.0]), TemperatureUnit.FAHRENHEIT).tolist()
    [120.0, 140.0]
    """
    return (reading - 32) / 1.8 if unit is TemperatureUnit.FAHRENHEIT else reading


def kilopascal(reading: FloatArray, unit: PressureUnit) -> FloatArray:
    """Pressures as logged → [kPa].

    >>> import numpy as np
    >>> round(float(kilopascal(np.array(30.0), PressureUnit.PSI)), 6)
    206.842719
    """
    return reading * _TO_KPA[unit]
