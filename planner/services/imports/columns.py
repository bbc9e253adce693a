"""Columns of a file by their headings, and what its cells say or fail to say."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from planner.domain.errors import InvalidValueError, UserError
from planner.domain.file_tasks import Pace, no_pace
from planner.domain.sentences import Sentence, _, sentence_of
from planner.services.imports.table import TableRow
from planner.services.imports.unreadable import Unreadable

_BEYOND = _("something stands here that no heading names: a comma inside a cell needs quotes around it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column by its heading: the field that it fills, how it is read, and whether it may be left out."""

    name: str
    field: str
    read: Callable[[Any], Any]
    required: bool = True
    help: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CellFault:
    """What is wrong with one cell; the column is empty where it is the whole row."""

    row: int
    column: str
    message: Sentence
    sheet: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckedRow:
    """A sound row: its number in the file and its values by field."""

    number: int
    values: dict[str, Any]

    def key(self, fields: Sequence[str]) -> tuple[Any, ...]:
        """What makes it the same row as one on file."""
        return tuple(self.values.get(field) for field in fields)


def column(
    name: str, read: Callable[[Any], Any], *, field: str = "", required: bool = True, help: str = ""
) -> Column:
    """A column whose field has the heading's name unless it is given."""
    return Column(name=name, field=field or name.replace(" ", "_"), read=read, required=required, help=help)


def columns_refuse(words: str, columns: Sequence[Column], rows: Sequence[TableRow]) -> None:
    """Raise InvalidValueError where a file of `words` lacks a column or has one of another kind."""
    if not rows:
        raise InvalidValueError(_("the file has a heading and no rows"))
    there = {name for name in rows[0].cells if name}
    known = {column.name for column in columns}
    missing = sorted({column.name for column in columns if column.required} - there)
    if missing:
        raise InvalidValueError(
            _("the file has no column {missing}; {words} need it", missing=tuple(missing), words=words)
        )
    if there - known:
        strange = ", ".join(sorted(there - known))
        raise InvalidValueError(
            _(
                "{words} have no column {strange}; they have {known}",
                words=words,
                strange=strange,
                known=sorted(known),
            )
        )


def row_read(columns: Sequence[Column], row: TableRow) -> tuple[dict[str, Any], list[CellFault]]:
    """The row's values by field, without empty cells, and a fault for each cell that can't be read."""
    values: dict[str, Any] = {}
    faults = []
    for each in columns:
        cell = row.cells.get(each.name)
        if cell is None or cell == "":
            if each.required:
                faults.append(CellFault(row=row.number, column=each.name, message=_("is empty")))
            continue
        try:
            values[each.field] = _cell_read(each, cell)
        except UserError as fault:
            faults.append(CellFault(row=row.number, column=each.name, message=sentence_of(fault)))
    faults += [CellFault(row=row.number, column=letter, message=_BEYOND) for letter in row.beyond]
    return values, faults


def _cell_read(column: Column, cell: Any) -> Any:
    if isinstance(cell, Unreadable):
        raise InvalidValueError(cell.why)
    return column.read(cell)


def rows_read(
    columns: Sequence[Column],
    key: Sequence[str],
    rows: Sequence[TableRow],
    more: Callable[[int, dict[str, Any]], Iterator[CellFault]] | None = None,
    pace: Pace = no_pace,
) -> tuple[list[CheckedRow], list[CellFault]]:
    """The sound rows, and every fault by row and column; `more` finds further ones in what could be read."""
    sound, faults, seen = [], [], dict[tuple[Any, ...], int]()
    for row in rows:
        pace()
        values, found = row_read(columns, row)
        if more is not None:
            found.extend(more(row.number, values))
        checked = CheckedRow(number=row.number, values=values)
        # Only of sound rows: a faulty one may have been meant to be another.
        found = found or list(_twice(columns, key, checked, seen))
        faults.extend(found)
        if not found:
            sound.append(checked)
    return sound, faults


def _twice(
    columns: Sequence[Column], key: Sequence[str], row: CheckedRow, seen: dict[tuple[Any, ...], int]
) -> Iterator[CellFault]:
    """A fault where an earlier row is the same."""
    before = seen.setdefault(row.key(key), row.number)
    if before != row.number:
        names = ", ".join(each.name for each in columns if each.field in key)
        yield CellFault(
            row=row.number,
            column=names,
            message=_("the same {names} as row {before}", names=names, before=before),
        )
