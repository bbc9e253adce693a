"""Importing row by row through the services: a preview is the very import, taken back at its end."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from planner.domain.errors import InvalidValueError, UserError
from planner.domain.file_tasks import Pace, no_pace
from planner.domain.sentences import Sentence, sentence_of
from planner.models import Site, User
from planner.services.imports.alone import import_alone
from planner.services.imports.columns import CellFault, CheckedRow, Column, columns_refuse, rows_read
from planner.services.imports.table import TableRow


class FieldError(InvalidValueError):
    """A row's fault that belongs to one of its fields."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


class Effect(StrEnum):
    """What a row does."""

    ADDED = "added"
    CHANGED = "changed"
    UNCHANGED = "unchanged"


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSheet:
    """A kind of sheet whose rows are written one by one.

    `key` names the fields that make a row the same row; `write` writes one through services, says
    what it did, and raises a UserError where it can't.
    """

    name: str
    words: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    write: Callable[[User, Site, Mapping[str, Any]], Effect]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOutcome:
    """What came of one sheet: numbers of rows by their effect, and every fault."""

    sheet: RowSheet
    effects: Mapping[Effect, int]
    faults: tuple[CellFault, ...]

    @property
    def added(self) -> int:
        """Rows that are new."""
        return self.effects.get(Effect.ADDED, 0)

    @property
    def changed(self) -> int:
        """Rows that change what is on file."""
        return self.effects.get(Effect.CHANGED, 0)

    @property
    def unchanged(self) -> int:
        """Rows that are there already."""
        return self.effects.get(Effect.UNCHANGED, 0)


def sheets_import(
    *,
    user: User,
    site: Site,
    sheets: Sequence[tuple[RowSheet, Sequence[TableRow]]],
    keep: bool,
    pace: Pace = no_pace,
) -> list[SheetOutcome]:
    """Write every row of the sheets in their order; kept only where `keep` is set and no row has a fault.

    A later sheet may name what an earlier one adds. The services ask for their permissions themselves.
    """
    with transaction.atomic():
        import_alone(site)
        outcomes = [_sheet_write(user, site, sheet, rows, pace) for sheet, rows in sheets]
        if not keep or any(outcome.faults for outcome in outcomes):
            transaction.set_rollback(True)
    return outcomes


def _sheet_write(
    user: User, site: Site, sheet: RowSheet, rows: Sequence[TableRow], pace: Pace
) -> SheetOutcome:
    columns_refuse(sheet.words, sheet.columns, rows)
    sound, faults = rows_read(sheet.columns, sheet.key, rows)
    effects: dict[Effect, int] = {}
    for row in sound:
        pace()
        try:
            with transaction.atomic():
                effect = sheet.write(user, site, row.values)
            effects[effect] = effects.get(effect, 0) + 1
        except UserError as fault:
            faults.extend(_row_faults(sheet, row, fault))
    told = (replace(each, sheet=sheet.name) for each in sorted(faults, key=lambda each: each.row))
    return SheetOutcome(sheet=sheet, effects=effects, faults=tuple(told))


def _row_faults(sheet: RowSheet, row: CheckedRow, fault: UserError) -> Iterator[CellFault]:
    """A fault for each field that the services object to; for the whole row where they name none."""
    cause = fault.__cause__
    names = {column.field: column.name for column in sheet.columns}
    if isinstance(fault, FieldError):
        yield CellFault(row=row.number, column=names.get(fault.field, ""), message=sentence_of(fault))
        return
    if not isinstance(cause, ValidationError) or not hasattr(cause, "error_dict"):
        yield CellFault(row=row.number, column="", message=sentence_of(fault))
        return
    for field, messages in cause.message_dict.items():
        message, value = " ".join(messages), row.values.get(field)
        if value is not None and str(value) not in message:
            message = f"{value}: {message}"
        yield CellFault(row=row.number, column=names.get(field, ""), message=Sentence(message))
