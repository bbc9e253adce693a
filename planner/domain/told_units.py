"""The figures of a limit, or of a sentence that was kept as bare text, in the units of who reads it."""

import re
from collections.abc import Mapping

from planner.domain.cure_limits import KINDS, CureLimit
from planner.domain.units import celsius_of, kilopascal_of, pressure_in, temperature_in

PLACES: Mapping[str, int] = {"°C": 0, "°F": 0, "kPa": 0, "psi": 1, "bar": 2}
"""To how many decimal places a figure of each unit is told."""

DIFFERENCES = frozenset({CureLimit.HOLD_SLACK, CureLimit.OVERSHOOT, CureLimit.TOGETHER, CureLimit.RISE})
"""Limits that are so many degrees more or less: one of Celsius is 1.8 of Fahrenheit, with nothing added."""

_FIGURE = re.compile(r"(±?)(-?\d+(?:\.\d+)?) (°C|kPa)\b( apart| less)?")
_OF_UNITS = "as read:"


def limit_in(limit: CureLimit, value: float, temperature_unit: str, pressure_unit: str) -> tuple[float, str]:
    """A limit's figure in the reader's unit, and that unit.

    >>> limit_in(CureLimit.START, 120, "°F", "psi"), limit_in(CureLimit.TOGETHER, 10, "°F", "psi")
    ((248.0, '°F'), (18.0, '°F'))

    """
    unit = KINDS[limit].unit
    if unit == "kPa":
        return pressure_in(value, pressure_unit), pressure_unit
    if unit not in ("°C", "°C/min"):
        return value, unit
    shown = (
        degrees_in(value, temperature_unit)
        if limit in DIFFERENCES
        else temperature_in(value, temperature_unit)
    )
    return shown, unit.replace("°C", temperature_unit)


def limit_of(limit: CureLimit, typed: float, temperature_unit: str, pressure_unit: str) -> float:
    """What was typed for a limit in the reader's unit, in the limit's own.

    >>> limit_of(CureLimit.START, 248, "°F", "psi"), round(limit_of(CureLimit.TOGETHER, 18, "°F", "psi"), 3)
    (120.0, 10.0)

    """
    unit = KINDS[limit].unit
    if unit == "kPa":
        return kilopascal_of(typed, pressure_unit)
    if unit not in ("°C", "°C/min"):
        return typed
    return (
        typed / degrees_in(1, temperature_unit)
        if limit in DIFFERENCES
        else celsius_of(typed, temperature_unit)
    )


def sentence_in(text: str, temperature_unit: str, pressure_unit: str) -> str:
    """A sentence about a cure, as older releases kept it, with its figures in the reader's units.

    A sentence that asks whether a unit was mistaken for another stays as it is.

    >>> sentence_in("pads lie up to 5 °C apart, at most 10 °C apart; bags at 207 kPa", "°F", "psi")
    'pads lie up to 9 °F apart, at most 18 °F apart; bags at 30.0 psi'
    >>> sentence_in("inside pad holds 284 °C as read: °F labelled °C? Then 140 °C", "°F", "psi")
    'inside pad holds 284 °C as read: °F labelled °C? Then 140 °C'

    """
    if _OF_UNITS in text:
        return text

    def told(found: re.Match[str]) -> str:
        return _figure_in(found, temperature_unit, pressure_unit) + (found[4] or "")

    is_as_kept = (temperature_unit, pressure_unit) == ("°C", "kPa")
    return text if is_as_kept else _FIGURE.sub(told, text)


def sentence_beside(text: str, temperature_unit: str, pressure_unit: str) -> str:
    """A sentence as it was signed, and behind each figure the same in the reader's unit where that differs.

    >>> sentence_beside("pads at 140 °C, at most 10 °C apart; bags at 207 kPa", "°F", "kPa")
    'pads at 140 °C (284 °F), at most 10 °C (18 °F) apart; bags at 207 kPa'

    """
    if _OF_UNITS in text:
        return text

    def told(found: re.Match[str]) -> str:
        kept, ending = f"{found[1]}{found[2]} {found[3]}", found[4] or ""
        shown = _figure_in(found, temperature_unit, pressure_unit)
        return f"{kept}{ending}" if shown.endswith(found[3]) else f"{kept} ({shown}){ending}"

    return _FIGURE.sub(told, text)


def _figure_in(found: re.Match[str], temperature_unit: str, pressure_unit: str) -> str:
    """A figure of a sentence in the reader's unit, with the unit."""
    sign, value, unit = found[1], float(found[2]), found[3]
    if unit == "kPa":
        shown, unit = pressure_in(value, pressure_unit), pressure_unit
    elif sign or found[4]:
        shown, unit = degrees_in(value, temperature_unit), temperature_unit
    else:
        shown, unit = temperature_in(value, temperature_unit), temperature_unit
    return f"{sign}{shown:.{PLACES[unit]}f} {unit}"


def degrees_in(celsius: float, unit: str) -> float:
    """So many degrees Celsius more or less as degrees of `unit`.

    >>> degrees_in(10, "°F")
    18.0

    """
    return temperature_in(celsius, unit) - temperature_in(0, unit)
