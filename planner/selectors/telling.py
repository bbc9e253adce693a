"""Sentences of the core in the reader's language and units: the only place that looks their templates up."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType

from django.utils import translation
from django.utils.formats import date_format, number_format

from planner.domain.sentences import (
    UNITS,
    Figure,
    Sentence,
    filled,
    moment_of,
    named,
    names_of,
    recalled,
    sentence_of,
)
from planner.domain.sentences import english as as_in_english
from planner.domain.told_units import PLACES, degrees_in
from planner.domain.units import pressure_in, temperature_in
from planner.models.choice_words import CHOICE_WORDS
from planner.selectors.preferences import AS_KEPT, Beside, Reading

_NOBODY: Mapping[str, str] = MappingProxyType({})
_MOMENTS: Mapping[str, str] = {"moment": "D j M H:i", "minute": "D H:i", "day_minute": "D d H:i"}
_BETWEEN: Mapping[str, str] = {"list": "; ", "lines": "\n"}
_WAYS: Mapping[str, Callable[[float, str], float]] = {
    "°C": temperature_in,
    "Δ°C": degrees_in,
    "kPa": pressure_in,
}
_DATES: Mapping[str, str] = {"%B %Y": "F Y"}


def in_words(text: object, names: Mapping[str, str] = _NOBODY, reading: Reading | Beside = AS_KEPT) -> str:
    """A sentence in the language that is in force, its figures by that locale; other text as it stands.

    An error gives what it says, and a column of JSON what it keeps. `names` are those of the things that
    figures name by their ids; `reading` has the units, or those that stand beside the ones that are kept.
    """
    if isinstance(text, BaseException):
        text = sentence_of(text)
    elif isinstance(text, dict):
        text = recalled(text)
    return _Teller(names=names, reading=reading).words(text) if isinstance(text, Sentence) else str(text)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Teller:
    names: Mapping[str, str]
    reading: Reading | Beside

    def words(self, text: Sentence) -> str:
        """The sentence; in English where a stored one asks for what this release no longer writes."""
        try:
            return filled(_template(text), text.figures, self._figure)
        except (ArithmeticError, LookupError, TypeError, ValueError):
            return str(text)

    def _figure(self, value: Figure, kind: str) -> str:
        if isinstance(value, Sentence) or kind in ("phrase", "capital"):
            return self._part(value, kind)
        if kind in _MOMENTS:
            # It carries the site's own clock.
            return date_format(moment_of(value), _MOMENTS[kind])
        if kind == "names":
            return self.words(named([self._name(each) for each in names_of(value)]))
        if isinstance(value, tuple):
            return _BETWEEN.get(kind, ", ").join(self._figure(each, "") for each in value)
        if isinstance(value, str) and not kind:
            return self._name(value)
        if isinstance(value, date) and not isinstance(value, datetime):
            return date_format(value, _DATES.get(kind, "j M Y"))
        return self._measure(value, kind) if kind.endswith(UNITS) else _number(value, kind)

    def _part(self, value: Figure, kind: str) -> str:
        """A sentence that stands in another one; a plan keeps it as its English text."""
        words = self.words(value if isinstance(value, Sentence) else Sentence(str(value)))
        return words[:1].upper() + words[1:] if kind == "capital" else words

    def _name(self, value: str) -> str:
        """What a thing is called; a word of the core in the reader's language; a given name as it is."""
        if isinstance(value, Sentence):
            return self.words(value)
        if isinstance(value, StrEnum):
            return str(CHOICE_WORDS.get(value.value, value.value))
        return ", ".join(self.names.get(each, each) for each in value.split(", "))

    def _measure(self, value: Figure, kind: str) -> str:
        """A temperature or a pressure, as fine as it was told where the unit stays."""
        told, _space, kept = kind.partition(" ")
        reading = self.reading.reading if isinstance(self.reading, Beside) else self.reading
        unit = reading.pressure_unit if kept == "kPa" else reading.temperature_unit
        as_kept = f"{_number(value, told)} {kept.removeprefix('Δ')}"
        if unit == kept.removeprefix("Δ"):
            return as_kept
        shown = _WAYS[kept](float(str(value)), unit)
        words = f"{_number(shown, f'.{PLACES[unit]}f')} {unit}"
        return f"{as_kept} ({words})" if isinstance(self.reading, Beside) else words


def _template(text: Sentence) -> str:
    if text.many:
        return translation.ngettext(text.template, text.many, int(str(text.figures["n"])))
    return translation.gettext(text.template) if text.template else ""


def _number(value: Figure, kind: str) -> str:
    """A number to as many places as in English, with the signs of the locale."""
    text = as_in_english(value, kind)
    plain = text.replace(",", "")
    if not isinstance(value, float | Decimal) or not plain.replace(".", "", 1).lstrip("-").isdecimal():
        return text
    places = len(plain.partition(".")[2])
    return str(number_format(Decimal(plain), decimal_pos=places, force_grouping="," in kind))
