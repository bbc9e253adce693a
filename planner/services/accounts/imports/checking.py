"""What the rules, the model and the closed months say of a row."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from planner.domain.sentences import Sentence, _
from planner.models import Site
from planner.selectors.accounts.known import Known
from planner.services.accounts.imports.kinds import ImportKind
from planner.services.imports.columns import CellFault, CheckedRow


def row_faults(
    kind: ImportKind, site: Site, known: Known, number: int, values: dict[str, Any]
) -> Iterator[CellFault]:
    """Every fault of the values that could be read, by column; they are put into their normal form first."""
    found = dict(kind.rules(known, values))
    # What a rule has named needs no second fault.
    unread = {each.field for each in kind.columns} - {*values}
    try:
        kind.model(site=site, **values).clean_fields(exclude={"site", "author", *unread, *found})
    except ValidationError as fault:
        found |= {field: Sentence(" ".join(messages)) for field, messages in fault.message_dict.items()}
    for field, message in found.items():
        yield CellFault(row=number, column=kind.heading(field), message=message)


def row_notes(kind: ImportKind, known: Known, rows: Iterable[CheckedRow]) -> Iterator[CellFault]:
    """What may be meant but rarely is; it stops nothing."""
    for row in rows:
        for field, message in kind.notes(known, row.values):
            yield CellFault(row=row.number, column=kind.heading(field), message=message)


def closed_faults(kind: ImportKind, known: Known, rows: Iterable[CheckedRow]) -> Iterator[CellFault]:
    """A fault for each row that would change a month that is closed, or one before it."""
    for row in rows:
        day = kind.day_of(row.values)
        if day is not None and known.closed is not None and day.replace(day=1) <= known.closed:
            message = _("{closed:%B %Y} is closed, and {day} is not after it", closed=known.closed, day=day)
            yield CellFault(row=row.number, column=kind.heading(kind.dated_by), message=message)


def values_on_file(row: models.Model, fields: Sequence[str]) -> dict[str, Any]:
    """The row's values of some fields."""
    return {field: getattr(row, field) for field in fields}
