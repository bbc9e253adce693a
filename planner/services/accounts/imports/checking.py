"""What the model and the closed months say of a row that could be read."""

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from planner.domain.errors import UserError
from planner.models import Site
from planner.services.accounts.imports.kinds import ImportKind
from planner.services.accounts.periods import refuse_closed
from planner.services.imports.columns import CellFault


def row_faults(kind: ImportKind, site: Site, number: int, values: dict[str, Any]) -> Iterator[CellFault]:
    """Every fault of a row's values, by column; the values are tidied first."""
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


def values_on_file(row: models.Model, fields: Sequence[str]) -> dict[str, Any]:
    """The row's values of some fields."""
    return {field: getattr(row, field) for field in fields}


def _closed_fault(site: Site, number: int, kind: ImportKind, day: Any) -> Iterator[CellFault]:
    try:
        refuse_closed(site=site, day=day)
    except UserError as fault:
        yield CellFault(row=number, column=kind.dated_by.replace("_", " "), message=str(fault))
