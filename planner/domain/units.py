"""Temperatures and pressures in the units of people: stored in °C and kPa, shown and typed in theirs."""

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

TEMPERATURE_UNITS = ("°C", "°F")
PRESSURE_UNITS = ("kPa", "psi", "bar")
KPA_PER_PSI = 6.894757293
"""Kilopascals in a pound-force per square inch [kPa/psi] (NIST SP 811 appendix B.8, from memory)."""

_KPA_PER = {"kPa": 1.0, "psi": KPA_PER_PSI, "bar": 100.0}


def temperature_in(celsius: float, unit: str) -> float:
    """A temperature [°C] in `unit`; InvalidValueError where nobody reads that unit.

    >>> temperature_in(140, "°F")
    284.0

    """
    _refuse_strange(unit, TEMPERATURE_UNITS)
    return celsius * 9 / 5 + 32 if unit == "°F" else celsius


def celsius_of(value: float, unit: str) -> float:
    """A temperature in `unit` as °C.

    >>> celsius_of(248, "°F")
    120.0

    """
    _refuse_strange(unit, TEMPERATURE_UNITS)
    return (value - 32) * 5 / 9 if unit == "°F" else value


def pressure_in(kilopascal: float, unit: str) -> float:
    """A pressure [kPa] in `unit`.

    >>> round(pressure_in(206.84, "psi"), 1), pressure_in(210, "bar")
    (30.0, 2.1)

    """
    _refuse_strange(unit, PRESSURE_UNITS)
    return kilopascal / _KPA_PER[unit]


def kilopascal_of(value: float, unit: str) -> float:
    """A pressure in `unit` as kPa.

    >>> round(kilopascal_of(30, "psi"), 2)
    206.84

    """
    _refuse_strange(unit, PRESSURE_UNITS)
    return value * _KPA_PER[unit]


def _refuse_strange(unit: str, units: tuple[str, ...]) -> None:
    if unit not in units:
        raise InvalidValueError(_("{unit:quoted} is none of {units}", unit=unit, units=tuple(units)))
