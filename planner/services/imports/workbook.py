"""The cells of a workbook's sheets, with those that hold no value of their own marked as such."""

import io
import zipfile
import zlib
from collections.abc import Iterator, Sequence
from typing import Any

from defusedxml.ElementTree import ParseError, iterparse
from openpyxl import load_workbook
from openpyxl.cell.cell import TYPE_ERROR, TYPE_FORMULA
from openpyxl.utils.cell import range_boundaries
from openpyxl.utils.exceptions import InvalidFileException

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.services.imports.unfolding import refuse_bomb
from planner.services.imports.unreadable import Unreadable

# A small file can unfold into a huge one.
MOST_UNFOLDED_BYTES = 100_000_000
WORKBOOK_FAULTS = (
    InvalidFileException, zipfile.BadZipFile, zlib.error, ParseError, ArithmeticError, AttributeError,
    EOFError, LookupError, OSError, RuntimeError, TypeError, ValueError,
)  # fmt: skip
"""Whatever the libraries raise on a file that somebody broke, by accident or on purpose."""

_MERGED = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}mergeCell"
_UNMERGE = _("unmerge them and fill each one")


def sheet_names(raw: bytes) -> list[str]:
    """The names of a workbook's sheets in order; InvalidValueError where the bytes are no workbook."""
    try:
        refuse_bomb(raw, most_bytes=MOST_UNFOLDED_BYTES)
        return list(load_workbook(io.BytesIO(raw), read_only=True).sheetnames)
    except InvalidValueError:
        raise
    except WORKBOOK_FAULTS as fault:
        raise InvalidValueError(_("the file is no sound XLSX workbook: save it again, or as CSV")) from fault


def sheet_lines(raw: bytes, at: int = 0) -> Iterator[Sequence[Any]]:
    """The sheet at a place line by line; InvalidValueError where the bytes are no workbook."""
    try:
        refuse_bomb(raw, most_bytes=MOST_UNFOLDED_BYTES)
        yield from _lines(raw, at)
    except InvalidValueError:
        raise
    except WORKBOOK_FAULTS as fault:
        raise InvalidValueError(_("the file is no sound XLSX workbook: save it again, or as CSV")) from fault


def _lines(raw: bytes, at: int) -> Iterator[Sequence[Any]]:
    sheet = load_workbook(io.BytesIO(raw), read_only=True).worksheets[at]
    merged = _merged_ranges(raw, str(getattr(sheet, "_worksheet_path")))  # noqa: B009 (not in the stubs)
    for number, line in enumerate(sheet.iter_rows(), start=1):
        values = [_value(cell) for cell in line]
        for ref, (left, top, right, bottom) in merged.items():
            if top <= number <= bottom:
                within = values[left - 1 : right]
                values[left - 1 : right] = [
                    Unreadable(_("is merged with others ({ref}): {unmerge}", ref=ref, unmerge=_UNMERGE))
                ] * len(within)
        yield values


def _merged_ranges(raw: bytes, path: str) -> dict[str, tuple[int, int, int, int]]:
    """Every merged range: left, top, right, bottom. Reading line by line leaves it out."""
    with zipfile.ZipFile(io.BytesIO(raw)) as packed, packed.open(path) as part:
        refs = [str(each.get("ref")) for _, each in iterparse(part) if each.tag == _MERGED]
    return {ref: _corners(ref) for ref in refs}


def _corners(ref: str) -> tuple[int, int, int, int]:
    left, top, right, bottom = range_boundaries(ref)
    if left is None or top is None or right is None or bottom is None:
        raise ValueError(f"{ref} is no range of cells")
    return left, top, right, bottom


def _value(cell: Any) -> Any:
    if cell.data_type == TYPE_FORMULA:
        return Unreadable(_("holds a formula: put its value there"))
    if cell.data_type == TYPE_ERROR:
        return Unreadable(_("holds the error {value}", value=cell.value))
    return cell.value
