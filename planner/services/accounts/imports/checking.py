"""Checking every row of a file, so that all its faults are seen at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from planner.domain.errors import InvalidValueError, UserError
from planner.models import Site
from planner.services.accounts.imports.kinds import Column, ImportKind
from planner.services.accounts.imports.table import TableRow
from planner.services.accounts.periods import refuse_closed


@dataclass(frozen=True, slots=True, kw_only=True)
class CellFault:
    """What is wrong with one cell; the column is empty where it is the whole row."""

    row: int
    column: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckedRow:
    """A sound row: its number in the file and its values by field."""

    number: int
    values: dict[str, Any]

    def key(self, kind: ImportKind) -> tuple[Any, ...]:
        """What makes it the same row as one on file."""
        return tuple(self.values[field] for field in kind.key)


def refuse_columns(kind: ImportKind, rows: Sequence[TableRow]) -> None:
    """Raise InvalidValueError where the file lacks a column or has one of another kind."""
    if not rows:
        raise InvalidValueError("the file has a heading and no rows")
    there = {name for name in rows[0].cells if name}
    known = {column.name for column in kind.columns}
    missing = sorted({column.name for column in kind.columns if column.required} - there)
    if missing:
        raise InvalidValueError(f"the file has no column {', '.join(missing)}; {kind.words} need it")
    if there - known:
        strange = ", ".join(sorted(there - known))
        raise InvalidValueError(
            f"{kind.words} have no column {strange}; they have {', '.join(sorted(known))}"
        )


def rows_check(
    kind: ImportKind, site: Site, rows: Sequence[TableRow]
) -> tuple[list[CheckedRow], list[CellFault]]:
    """The sound rows, and every fault by row and column."""
    sound, faults, seen = [], [], dict[tuple[Any, ...], int]()
    for row in rows:
        values, found = _read(kind, row)
        found = found or list(_row_faults(kind, site, row.number, values))
        if not found:
            checked = CheckedRow(number=row.number, values=values)
            before = seen.setdefault(checked.key(kind), row.number)
            if before != row.number:
                same = ", ".join(field.replace("_", " ") for field in kind.key)
                message = f"the same {same} as row {before}"
                found = [CellFault(row=row.number, column="", message=message)]
            else:
                sound.append(checked)
        faults.extend(found)
    return sound, faults


def _read(kind: ImportKind, row: TableRow) -> tuple[dict[str, Any], list[CellFault]]:
    values: dict[str, Any] = {}
    faults = []
    for column in kind.columns:
        cell = row.cells.get(column.name)
        if cell is None or cell == "":
            if column.required:
                faults.append(_fault(row.number, column, "is empty"))
            continue
        try:
            values[column.field] = column.read(cell)
        except UserError as fault:
            faults.append(_fault(row.number, column, str(fault)))
    return values, faults


def _row_faults(kind: ImportKind, site: Site, number: int, values: dict[str, Any]) -> Iterator[CellFault]:
    """What the model and the closed months say of a row that could be read."""
    try:
        kind.tidied(values)
    except UserError as fault:
        yield CellFault(row=number, column="item", message=str(fault))
    try:
        kind.model(site=site, **values).clean_fields(exclude=["site"])
    except ValidationError as fault:
        names = {column.field: column.name for column in kind.columns}
        for field, messages in fault.message_dict.items():
            yield CellFault(row=number, column=names.get(field, ""), message=" ".join(messages))
    day = kind.day_of(values)
    if day is not None:
        yield from _closed_fault(site, number, kind, day)


def _closed_fault(site: Site, number: int, kind: ImportKind, day: Any) -> Iterator[CellFault]:
    try:
        refuse_closed(site=site, day=day)
    except UserError as fault:
        yield CellFault(row=number, column=kind.dated_by.replace("_", " "), message=str(fault))


def _fault(number: int, column: Column, message: str) -> CellFault:
    return CellFault(row=number, column=column.name, message=message)


def values_on_file(row: models.Model, fields: Sequence[str]) -> dict[str, Any]:
    """The row's values of some fields."""
    return {field: getattr(row, field) for field in fields}
