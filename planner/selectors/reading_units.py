"""Temperatures and pressures as people read and type them: the only place that formats or parses them."""

from collections.abc import Mapping

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from planner.domain.cure_limits import KINDS, CureLimit
from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import InvalidValueError
from planner.domain.told_units import PLACES, limit_in, limit_of, sentence_beside, sentence_in
from planner.domain.units import pressure_in, temperature_in
from planner.selectors.preferences import Beside, Reading
from planner.selectors.telling import in_words


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
    places = PLACES[reading.pressure_unit]
    return f"{number_format(round(shown, places), decimal_pos=places)} {reading.pressure_unit}"


def sentence_words(text: object, reading: Reading | Beside) -> str:
    """A sentence about a cure in the reader's language and units, or as it was signed with those beside.

    `text` is what `in_words` takes; what was kept as bare text has its figures looked for in the words.
    """
    words = in_words(text, reading=reading)
    if isinstance(text, dict) or getattr(text, "figures", None):
        return words
    if isinstance(reading, Beside):
        return sentence_beside(words, reading.reading.temperature_unit, reading.reading.pressure_unit)
    return sentence_in(words, reading.temperature_unit, reading.pressure_unit)


def limit_figure(limit: CureLimit, value: float, reading: Reading) -> str:
    """A limit's figure in the reader's unit, with the unit."""
    shown, unit = limit_in(limit, value, reading.temperature_unit, reading.pressure_unit)
    places = PLACES["bar"] if unit == "bar" else 1 if unit != KINDS[limit].unit else 3
    return f"{number_format(_bare(round(shown, places)))} {unit}"


def limit_unit(limit: CureLimit, reading: Reading) -> str:
    """The unit in which the reader types a limit."""
    return limit_in(limit, 0.0, reading.temperature_unit, reading.pressure_unit)[1]


def limit_typed(limit: CureLimit, typed: float, reading: Reading) -> float:
    """What the reader typed, in the limit's own unit; InvalidValueError where no cure can have it."""
    value = limit_of(limit, typed, reading.temperature_unit, reading.pressure_unit)
    kind = KINDS[limit]
    # A hundredth of a degree or a kilopascal is what turning a rounded figure may cost.
    if not kind.low - _ROUNDING <= value <= kind.high + _ROUNDING:
        low, high = (limit_figure(limit, end, reading) for end in (kind.low, kind.high))
        raise InvalidValueError(
            _("%(limit)s: from %(low)s to %(high)s, not %(typed)s.")
            % {"limit": kind.words, "low": low, "high": high, "typed": number_format(_bare(typed))}
        )
    return round(min(max(value, kind.low), kind.high), 6)


_ROUNDING = 0.01


def _bare(value: float) -> float | int:
    """A whole number without its point."""
    return int(value) if value == int(value) else value


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
