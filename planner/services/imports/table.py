"""Reading a CSV or XLSX file as rows of named cells."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.utils import get_column_letter

from planner.domain.errors import InvalidValueError
from planner.domain.key_text import UNSEEN
from planner.domain.sentences import _
from planner.services.imports.unreadable import Unreadable
from planner.services.imports.workbook import sheet_lines, sheet_names

# A previewed file travels with its page until it is confirmed.
MOST_BYTES = 1_500_000
MOST_ROWS = 50_000
MOST_COLUMNS = 500
_ZIP, _OLD_WORKBOOK = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """A row by its number in the file, counted from 1 with the heading, and its cells by column.

    `beyond` are the columns, by their letter, in which something stands that no heading names.
    """

    number: int
    cells: dict[str, Any]
    beyond: tuple[str, ...] = ()


def book_read(raw: bytes) -> dict[str, list[TableRow]]:
    """The rows of every sheet of a workbook by the sheet's name in small letters; an empty sheet has none."""
    refuse_large(raw)
    return {
        name.strip().lower(): list(_rows(sheet_lines(raw, at), may_be_empty=True))
        for at, name in enumerate(sheet_names(raw))
    }


def is_workbook(name: str, raw: bytes) -> bool:
    """Whether a file is to be read as a workbook."""
    return raw.startswith(_ZIP) or name.lower().endswith(".xlsx")


def table_read(name: str, raw: bytes) -> list[TableRow]:
    """The rows below the heading, without empty ones; InvalidValueError says why a file is not one."""
    refuse_large(raw)
    return list(_rows(sheet_lines(raw) if is_workbook(name, raw) else _csv(raw)))


def refuse_large(raw: bytes) -> None:
    """Raise InvalidValueError where the file is larger than is read."""
    if len(raw) > MOST_BYTES:
        raise InvalidValueError(
            _("the file is larger than {most_bytes} MB: split it", most_bytes=MOST_BYTES / 1_000_000)
        )
    if raw.startswith(_OLD_WORKBOOK):
        raise InvalidValueError(_("the file is a workbook of an old kind: save it as XLSX or as CSV UTF-8"))


def _rows(lines: Iterable[Sequence[Any]], *, may_be_empty: bool = False) -> Iterator[TableRow]:
    heading: list[str] | None = None
    for number, line in enumerate(lines, start=1):
        if number > MOST_ROWS:
            raise InvalidValueError(
                _("the file has more than {most_rows} rows: split it", most_rows=MOST_ROWS)
            )
        if len(line) > MOST_COLUMNS:
            raise InvalidValueError(
                _(
                    "row {number} has more than {most_columns} columns: keep those asked for",
                    number=number,
                    most_columns=MOST_COLUMNS,
                )
            )
        tidied = [_tidied(cell) for cell in line]
        if not any(_filled(cell) for cell in tidied):
            continue
        if heading is None:
            heading = _heading(tidied)
        else:
            yield _row(number, heading, tidied)
    if heading is None and not may_be_empty:
        raise InvalidValueError(_("the file is empty: its first row names the columns"))


def _row(number: int, heading: list[str], line: list[Any]) -> TableRow:
    named = dict(zip(heading, line, strict=False))
    beyond = tuple(
        get_column_letter(place)
        for place, cell in enumerate(line, start=1)
        if _filled(cell) and (place > len(heading) or not heading[place - 1])
    )
    return TableRow(number=number, cells=named, beyond=beyond)


def _heading(line: Sequence[Any]) -> list[str]:
    strange = next((cell for cell in line if isinstance(cell, Unreadable)), None)
    if strange is not None:
        raise InvalidValueError(_("the heading can't be read: a cell of it {why}", why=strange.why))
    names = [str(cell or "").strip().lower() for cell in line]
    twice = next((name for name in names if name and names.count(name) > 1), None)
    if twice is not None:
        raise InvalidValueError(_("the column {twice} stands in the file twice", twice=twice))
    return names


def _filled(cell: Any) -> bool:
    return cell is not None and cell != ""


def _tidied(cell: Any) -> Any:
    return cell.translate(UNSEEN).strip() if isinstance(cell, str) else cell


def _csv(raw: bytes) -> Iterator[Sequence[Any]]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InvalidValueError(_("the file is no UTF-8 text: save it as CSV UTF-8 or as XLSX")) from fault
    first = text.partition("\n")[0]
    delimiter = max((",", ";", "\t"), key=first.count)
    try:
        yield from csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
    except csv.Error as fault:
        raise InvalidValueError(_("the file is no sound CSV: {fault}", fault=fault)) from fault
