"""Reading one cell: each reader says what it wants where the cell is something else."""

import re
from collections.abc import Callable, Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.size_reading import size_read

Reader = Callable[[Any], Any]
_YES, _NO = frozenset({"yes", "true", "1"}), frozenset({"no", "false", "0"})
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FIRST_YEAR, _LAST_YEAR = 1990, 2099


def words(cell: Any) -> str:
    """Plain text; a spreadsheet's whole number is text without a decimal point."""
    if isinstance(cell, bool | date):
        raise InvalidValueError(_("{told} is a date or a yes or no, where text is wanted", told=_told(cell)))
    text = str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)
    if not text.isprintable():
        raise InvalidValueError(_("holds a line break or a sign that can't be read"))
    return text


def number(cell: Any) -> Decimal:
    """A number with a decimal point and no thousands' sign."""
    # A spreadsheet's number is a binary float: its shortest decimal text is what was typed.
    value = Decimal(repr(cell)) if isinstance(cell, float) else _typed_number(cell)
    if not value.is_finite():
        raise InvalidValueError(_("{told} is no number, such as 1234.50", told=_told(cell)))
    return value


def _typed_number(cell: Any) -> Decimal:
    text = str(cell)
    if text.endswith("%"):
        raise InvalidValueError(
            _("{told} is a percentage: write the share, such as 0.1 for 10 %", told=_told(cell))
        )
    if not _NUMBER.fullmatch(text):
        raise InvalidValueError(
            _("{told} is no number, such as 1234.50: digits and a decimal point alone", told=_told(cell))
        )
    return Decimal(text)


def whole(cell: Any) -> int:
    """A whole number."""
    value = number(cell)
    if value != value.to_integral_value():
        raise InvalidValueError(_("{told} is no whole number", told=_told(cell)))
    return int(value)


def day(cell: Any) -> date:
    """A date cell, or text such as 2026-11-25; InvalidValueError for a year that can't be meant."""
    found = cell if isinstance(cell, date) else _typed_day(cell)
    found = found.date() if isinstance(found, datetime) else found
    if not _FIRST_YEAR <= found.year <= _LAST_YEAR:
        raise InvalidValueError(
            _(
                "{found} lies outside the years {first_year} to {last_year}",
                found=found,
                first_year=_FIRST_YEAR,
                last_year=_LAST_YEAR,
            )
        )
    return found


def _typed_day(cell: Any) -> date:
    text = str(cell)
    try:
        if _DAY.fullmatch(text):
            return date.fromisoformat(text)
    except ValueError as fault:
        raise InvalidValueError(_("{told} is no day of the calendar", told=_told(cell))) from fault
    raise InvalidValueError(_("{told} is no date, such as 2026-11-25", told=_told(cell)))


def yes_or_no(cell: Any) -> bool:
    """Yes or no."""
    text = str(cell).lower()
    if text not in _YES | _NO:
        raise InvalidValueError(_("{told} is neither yes nor no", told=_told(cell)))
    return text in _YES


def currency(cell: Any) -> str:
    """Three capital letters."""
    text = str(cell).upper()
    if len(text) != 3 or not text.isalpha() or not text.isascii():
        raise InvalidValueError(_("{told} is no currency, such as AUD", told=_told(cell)))
    return text


def lower(cell: Any) -> str:
    """Text in small letters."""
    return words(cell).lower()


def one_of(known: Iterable[str]) -> Reader:
    """A reader of one of these words, in small letters or not."""
    there = tuple(known)

    def read(cell: Any) -> str:
        text = lower(cell)
        if text not in there:
            raise InvalidValueError(_("{told} is none of {there}", told=_told(cell), there=tuple(there)))
        return text

    return read


def size(cell: Any) -> str:
    """A tyre size in its normal form."""
    return str(size_read(words(cell)).size)


def _told(cell: Any) -> str:
    """The cell as it is shown in a message."""
    return repr(cell) if isinstance(cell, str) else f"'{cell}'"
