"""Reading one cell: each reader says what it wants where the cell is something else."""

from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from typing import Any

from planner.domain.errors import InvalidValueError
from planner.domain.size_reading import size_read

_YES, _NO = frozenset({"yes", "true", "1"}), frozenset({"no", "false", "0"})


def words(cell: Any) -> str:
    """Plain text."""
    return str(cell)


def number(cell: Any) -> Decimal:
    """A number with a decimal point and no thousands' sign."""
    # A spreadsheet's number is a binary float: its shortest decimal text is what was typed.
    text = repr(cell) if isinstance(cell, float) else str(cell)
    try:
        value = Decimal(text)
    except InvalidOperation as fault:
        raise InvalidValueError(f"{cell!r} is no number, such as 1234.50") from fault
    if not value.is_finite():
        raise InvalidValueError(f"{cell!r} is no number, such as 1234.50")
    return value


def whole(cell: Any) -> int:
    """A whole number."""
    value = number(cell)
    if value != value.to_integral_value():
        raise InvalidValueError(f"{cell!r} is no whole number")
    return int(value)


def day(cell: Any) -> date:
    """A date cell, or text such as 2026-11-25."""
    if isinstance(cell, datetime):
        return cell.date()
    try:
        return date.fromisoformat(str(cell))
    except ValueError as fault:
        raise InvalidValueError(f"{cell!r} is no date, such as 2026-11-25") from fault


def yes_or_no(cell: Any) -> bool:
    """Yes or no."""
    text = str(cell).lower()
    if text not in _YES | _NO:
        raise InvalidValueError(f"{cell!r} is neither yes nor no")
    return text in _YES


def currency(cell: Any) -> str:
    """Three capital letters."""
    text = str(cell).upper()
    if len(text) != 3 or not text.isalpha() or not text.isascii():
        raise InvalidValueError(f"{cell!r} is no currency, such as AUD")
    return text


def lower(cell: Any) -> str:
    """Text in small letters."""
    return str(cell).lower()


def size(cell: Any) -> str:
    """A tyre size in its normal form."""
    return str(size_read(str(cell)).size)
