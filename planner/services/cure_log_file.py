"""Cure logs from a logger's file: CSV or XLSX into rows, sizes limited, nothing mended."""

import csv
import io
import math
from collections.abc import Iterator
from datetime import datetime, time, timedelta
from itertools import islice

from openpyxl import load_workbook

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.cure_log.read import LONGEST_ROWS, Row
from planner.engineering.cure_log.times import Cell, number
from planner.services.imports.unfolding import refuse_bomb
from planner.services.imports.workbook import WORKBOOK_FAULTS

LARGEST_BYTES = 64 * 1024 * 1024
LARGEST_UNPACKED_BYTES = 160_000_000
"""A workbook that unpacks to more is refused before it is read."""

MOST_COLUMNS = 60
DELIMITERS = "\t;,"
SAMPLE = 200
"""So many rows or lines show how the file is made [-]."""


def cure_log_rows(*, raw: bytes, name: str) -> list[Row]:
    """The rows of a logger's file by column name, whatever stands above the names.

    Raises:
        InvalidValueError: the file is empty, too large, of another kind, or not to be read.

    """
    if not raw:
        raise InvalidValueError(_("{name} is empty", name=name))
    if len(raw) > LARGEST_BYTES:
        raise InvalidValueError(
            _(
                "{name} is larger than {largest_bytes} MB: export the cure alone",
                name=name,
                largest_bytes=LARGEST_BYTES // 2**20,
            )
        )
    table = _workbook(raw, name) if raw[:4] == b"PK\x03\x04" else _text(raw, name)
    return _by_name(table, name)


def _by_name(table: Iterator[tuple[Cell, ...]], name: str) -> list[Row]:
    """Rows by the names of their columns; what stands above the names is no reading."""
    filled = [row for row in table if any(map(_told, row))]
    if not filled:
        raise InvalidValueError(_("{name} has no rows", name=name))
    if len(filled) > LONGEST_ROWS:
        raise InvalidValueError(
            _(
                "{name} has more than {longest_rows} rows: export the cure alone",
                name=name,
                longest_rows=LONGEST_ROWS,
            )
        )
    first = _first_reading(filled)
    width = max(map(_width, filled))
    if width > MOST_COLUMNS:
        raise InvalidValueError(
            _(
                "{name} has more than {most_columns} columns: export the cure alone",
                name=name,
                most_columns=MOST_COLUMNS,
            )
        )
    header = column_names(filled[:first], width)
    return [dict(zip(header, _padded(row, width), strict=True)) for row in filled[first:]]


def _first_reading(filled: list[tuple[Cell, ...]]) -> int:
    """The first row as full as most are, with a number in it; the row after the first where none is."""
    counts = [sum(map(_told, row)) for row in filled[:SAMPLE]]
    usual = max(set(counts), key=lambda count: (counts.count(count), count))
    for place, row in enumerate(filled[:SAMPLE]):
        if counts[place] == usual and any(math.isfinite(number(cell)) for cell in row):
            return place
    return 1


def column_names(above: list[tuple[Cell, ...]], width: int) -> list[str]:
    """Names for so many columns from the rows above the readings; each is its own.

    The fullest row names them, and a row of units right below it is added. A column without a name is told
    by its number, and the second of a name by a 2.
    """
    fullest = max(above, key=lambda row: sum(map(_told, row)), default=())
    rows = above[above.index(fullest) :][:2] if above else []
    names: list[str] = []
    for place in range(width):
        parts = [str(row[place]).strip() for row in rows if place < len(row) and _told(row[place])]
        name = " ".join(parts) or f"column {place + 1}"
        count = sum(other == name or other.startswith(f"{name} (") for other in names)
        names.append(f"{name} ({count + 1})" if count else name)
    return names


def _told(cell: Cell) -> bool:
    return cell is not None and str(cell).strip() != ""


def _width(row: tuple[Cell, ...]) -> int:
    """Up to which column a row says anything."""
    return max((place for place, cell in enumerate(row, start=1) if _told(cell)), default=0)


def _padded(row: tuple[Cell, ...], width: int) -> tuple[Cell, ...]:
    return (*row[:width], *[None] * (width - len(row)))


def _text(raw: bytes, name: str) -> Iterator[tuple[Cell, ...]]:
    text = _decoded(raw, name)
    lines = [line for line in islice(io.StringIO(text), SAMPLE) if line.strip()]
    try:
        for row in islice(csv.reader(io.StringIO(text), delimiter=_delimiter(lines)), LONGEST_ROWS + SAMPLE):
            yield tuple(row)
    except csv.Error as error:
        raise InvalidValueError(_("{name} is not a table: {error}", name=name, error=error)) from error


def _delimiter(lines: list[str]) -> str:
    """The sign that most lines hold equally often; a decimal comma is not in the line of names."""

    def agreeing(sign: str) -> tuple[int, int]:
        counts = [line.count(sign) for line in lines if sign in line]
        usual = max(set(counts), key=counts.count, default=0)
        return counts.count(usual), usual

    return max(DELIMITERS, key=agreeing)


def _decoded(raw: bytes, name: str) -> str:
    encoding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    for each in (encoding, "cp1252"):
        try:
            text = raw.decode(each)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    raise InvalidValueError(_("{name} is neither text nor a workbook: export it as CSV or XLSX", name=name))


def _workbook(raw: bytes, name: str) -> Iterator[tuple[Cell, ...]]:
    try:
        refuse_bomb(raw, most_bytes=LARGEST_UNPACKED_BYTES)
        yield from _sheet_rows(raw)
    except InvalidValueError:
        raise
    except WORKBOOK_FAULTS as error:
        raise InvalidValueError(
            _("{name} is not a workbook that can be read: export it as CSV", name=name)
        ) from error


def _sheet_rows(raw: bytes) -> Iterator[tuple[Cell, ...]]:
    book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
    try:
        sheet = book.worksheets[0]
        for row in islice(sheet.iter_rows(values_only=True, max_col=MOST_COLUMNS + 1), LONGEST_ROWS + 2):
            yield tuple(_cell(value) for value in row)
    finally:
        book.close()


def _cell(value: object) -> Cell:
    if value is None or isinstance(value, str | int | float | datetime):
        return value
    if isinstance(value, time):
        return value.isoformat()
    if isinstance(value, timedelta):  # how a workbook gives hours beyond a day
        seconds = value.total_seconds()
        return f"{seconds // 3600:.0f}:{seconds // 60 % 60:02.0f}:{seconds % 60:02.0f}"
    return str(value)
