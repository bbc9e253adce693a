"""Reading a CSV or XLSX file as rows of named cells."""

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from planner.domain.errors import InvalidValueError

# A previewed file travels with its page until it is confirmed.
MOST_BYTES = 1_500_000
MOST_ROWS = 50_000


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """A row by its number in the file, counted from 1 with the heading, and its cells by column."""

    number: int
    cells: dict[str, Any]


def table_read(name: str, raw: bytes) -> list[TableRow]:
    """The rows below the heading, without empty ones; InvalidValueError says why a file is not one."""
    if len(raw) > MOST_BYTES:
        raise InvalidValueError(f"the file is larger than {MOST_BYTES / 1_000_000} MB: split it")
    lines = _xlsx(raw) if name.lower().endswith(".xlsx") else _csv(raw)
    return list(_rows(lines))


def _rows(lines: Iterable[Sequence[Any]]) -> Iterator[TableRow]:
    heading: list[str] | None = None
    for number, line in enumerate(lines, start=1):
        if number > MOST_ROWS:
            raise InvalidValueError(f"the file has more than {MOST_ROWS} rows: split it")
        if not any(_filled(cell) for cell in line):
            continue
        if heading is None:
            heading = _heading(line)
        else:
            cells = dict(zip(heading, (_tidied(cell) for cell in line), strict=False))
            yield TableRow(number=number, cells=cells)
    if heading is None:
        raise InvalidValueError("the file is empty: its first row names the columns")


def _heading(line: Sequence[Any]) -> list[str]:
    names = [str(cell or "").strip().lower() for cell in line]
    twice = next((name for name in names if name and names.count(name) > 1), None)
    if twice is not None:
        raise InvalidValueError(f"the column {twice} stands in the file twice")
    return names


def _filled(cell: Any) -> bool:
    return cell is not None and str(cell).strip() != ""


def _tidied(cell: Any) -> Any:
    return cell.strip() if isinstance(cell, str) else cell


def _csv(raw: bytes) -> Iterator[Sequence[Any]]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise InvalidValueError("the file is no UTF-8 text: save it as CSV UTF-8 or as XLSX") from fault
    first = text.partition("\n")[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    try:
        yield from csv.reader(io.StringIO(text), delimiter=delimiter, strict=True)
    except csv.Error as fault:
        raise InvalidValueError(f"the file is no sound CSV: {fault}") from fault


def _xlsx(raw: bytes) -> Iterator[Sequence[Any]]:
    try:
        book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError, OSError) as fault:
        raise InvalidValueError("the file is no sound XLSX workbook: save it again, or as CSV") from fault
    sheet = book.worksheets[0] if book.worksheets else None
    if sheet is None:
        raise InvalidValueError("the workbook has no sheet")
    yield from sheet.iter_rows(values_only=True)
