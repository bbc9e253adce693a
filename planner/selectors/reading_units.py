"""Temperatures and pressures as people read and type them: the only place that formats or parses them."""

from collections.abc import Mapping

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import InvalidValueError
from planner.domain.units import pressure_in, temperature_in
from planner.selectors.preferences import Reading

_PRESSURE_PLACES = {"kPa": 0, "psi": 1, "bar": 2}


def temperature_words(celsius: float | None, reading: Reading) -> str:
    """A temperature [°C] in the reader's unit, to the whole degree; a dash for nothing."""
    if celsius is None:
        return "–"
    shown = round(temperature_in(celsius, reading.temperature_unit))
    return f"{number_format(shown)} {reading.temperature_unit}"


def pressure_words(kilopascal: float | None, reading: Reading) -> str:
    """A pressure [kPa] in the reader's unit; a dash for nothing."""
    if kilopascal is None:
        return "–"
    shown = pressure_in(kilopascal, reading.pressure_unit)
    places = _PRESSURE_PLACES[reading.pressure_unit]
    return f"{number_format(round(shown, places), decimal_pos=places)} {reading.pressure_unit}"


def gauge_reading(reading: Reading, told: Mapping[str, str]) -> GaugeReading:
    """What was typed for both pads and the bags; InvalidValueError names the field that is no number."""
    return GaugeReading(
        inside=_number(told, "inside", _("inside pad")),
        outside=_number(told, "outside", _("outside pad")),
        pressure=_number(told, "pressure", _("bags")),
        temperature_unit=told.get("temperature_unit") or reading.temperature_unit,
        pressure_unit=told.get("pressure_unit") or reading.pressure_unit,
    )


def _number(told: Mapping[str, str], name: str, words: str) -> float | None:
    text = told.get(name, "").strip().replace(",", ".")
    if not text:
        return None
    if not text.removeprefix("-").replace(".", "", 1).isdecimal():
        raise InvalidValueError(
            _("%(name)s: %(text)s is no number, such as 140.") % {"name": words, "text": text}
        )
    return float(text)
