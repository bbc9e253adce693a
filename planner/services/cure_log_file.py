"""Cure logs from a logger's file: CSV or XLSX into rows, sizes limited, nothing mended."""

import csv
import io
import zipfile
from collections.abc import Iterator
from datetime import datetime, time
from itertools import islice

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from planner.domain.errors import InvalidValueError
from planner.engineering.cure_log.read import LONGEST_ROWS, Cell, Row

LARGEST_BYTES = 64 * 1024 * 1024
LARGEST_UNPACKED_BYTES = 512 * 1024 * 1024
"""A workbook that unpacks to more is refused before it is read."""

MOST_COLUMNS = 60
DELIMITERS = ",;\t"


def cure_log_rows(*, raw: bytes, name: str) -> list[Row]:
    """The rows of a logger's file by column name; the first row that is filled names the columns.

    Raises:
        InvalidValueError: the file is empty, too large, of another kind, or not to be read.

    """
    if not raw:
        raise InvalidValueError(f"{name} is empty")
    if len(raw) > LARGEST_BYTES:
        raise InvalidValueError(f"{name} is larger than {LARGEST_BYTES // 2**20} MB: export the cure alone")
    table = _workbook(raw, name) if raw[:4] == b"PK\x03\x04" else _text(raw, name)
    return _by_name(table, name)


def _by_name(table: Iterator[tuple[Cell, ...]], name: str) -> list[Row]:
    filled = (row for row in table if any(map(_told, row)))
    header = [str(cell).strip() for cell in next(filled, ()) if _told(cell)]
    if not header:
        raise InvalidValueError(f"{name} has no rows")
    if len(header) > MOST_COLUMNS or len(set(header)) != len(header):
        raise InvalidValueError(f"{name}: column names must differ, and be at most {MOST_COLUMNS}")
    rows: list[Row] = [dict(zip(header, _padded(row, len(header)), strict=True)) for row in filled]
    if len(rows) > LONGEST_ROWS:
        raise InvalidValueError(f"{name} has more than {LONGEST_ROWS} rows: export the cure alone")
    return rows


def _told(cell: Cell) -> bool:
    return cell is not None and str(cell).strip() != ""


def _padded(row: tuple[Cell, ...], width: int) -> tuple[Cell, ...]:
    return (*row[:width], *[None] * (width - len(row)))


def _text(raw: bytes, name: str) -> Iterator[tuple[Cell, ...]]:
    text = _decoded(raw, name)
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(DELIMITERS, key=first.count)
    try:
        for row in islice(csv.reader(io.StringIO(text), delimiter=delimiter), LONGEST_ROWS + 2):
            yield tuple(row)
    except csv.Error as error:
        raise InvalidValueError(f"{name} is not a table: {error}") from error


def _decoded(raw: bytes, name: str) -> str:
    encoding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    for each in (encoding, "cp1252"):
        try:
            text = raw.decode(each)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    raise InvalidValueError(f"{name} is neither text nor a workbook: export it as CSV or XLSX")


def _workbook(raw: bytes, name: str) -> Iterator[tuple[Cell, ...]]:
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
        if unpacked > LARGEST_UNPACKED_BYTES:
            raise InvalidValueError(f"{name} unpacks to more than {LARGEST_UNPACKED_BYTES // 2**20} MB")
        book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
    except (zipfile.BadZipFile, InvalidFileException, KeyError, ValueError) as error:
        if isinstance(error, InvalidValueError):
            raise
        raise InvalidValueError(f"{name} is not a workbook that can be read: export it as CSV") from error
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
    return str(value)
