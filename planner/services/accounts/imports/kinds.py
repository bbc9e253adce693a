"""What the books take: the columns of each kind of row, what makes a row the same row, and its rules."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import models

from planner.domain.sentences import Sentence
from planner.models import CostAsset, CostOutcome, CostPrice, CostRate, CostStock
from planner.selectors.accounts.entries import BOOKS
from planner.selectors.accounts.known import Known
from planner.services.accounts.imports import remarks
from planner.services.imports import cells
from planner.services.imports.columns import Column

Rule = Callable[[Known, dict[str, Any]], Iterator[tuple[str, Sentence]]]


def _nothing(_known: Known, _values: dict[str, Any]) -> Iterator[tuple[str, Sentence]]:
    yield from ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportKind:
    """A kind of file or form; `dated_by` is the field whose month must be open.

    `rules` find what stops a row, `notes` what may be meant but rarely is.
    """

    name: str
    words: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    rules: Rule
    notes: Rule = _nothing
    dated_by: str = ""

    @property
    def model(self) -> type[models.Model]:
        """Where its rows are kept."""
        return BOOKS[self.name]

    def day_of(self, values: Mapping[str, Any]) -> date | None:
        """The day in whose month the row counts; None where it counts in none."""
        return values.get(self.dated_by)

    def heading(self, field: str) -> str:
        """The column that fills the field; empty where none does."""
        return next((each.name for each in self.columns if each.field == field), "")


# What a cell must hold follows from the field that it fills; the first kind of field that fits.
_READERS: "tuple[tuple[type[models.Field[Any, Any]], cells.Reader], ...]" = (
    (models.DecimalField, cells.number),
    (models.DateField, cells.day),
    (models.BooleanField, cells.yes_or_no),
    (models.IntegerField, cells.whole),
    (models.SlugField, cells.lower),
    (models.CharField, cells.words),
)


def _columns(model: type[models.Model], *fields: str, **readers: cells.Reader) -> tuple[Column, ...]:
    """A column for each field, named as it is; it may be left out where the field has a usual value."""
    return tuple(_column(model, field, readers.get(field)) for field in fields)


def _column(
    model: type[models.Model], name: str, read: cells.Reader | None = None, heading: str = ""
) -> Column:
    field = model._meta.get_field(name)
    assert isinstance(field, models.Field)  # noqa: S101 (for the type)
    choices = [str(value) for value, _ in field.choices or ()]
    usual = next(reader for kind, reader in _READERS if isinstance(field, kind))
    return Column(
        name=heading or name.replace("_", " "),
        field=name,
        read=read or (cells.one_of(choices) if choices else usual),
        required=not (field.null or field.has_default()),
        help=str(field.help_text),
    )


PRICES = ImportKind(
    name="prices",
    words="prices",
    columns=_columns(
        CostPrice,
        "kind",
        "item",
        "unit",
        "amount",
        "currency",
        "loading",
        "overtime_factor",
        "effective_from",
        "source",
        currency=cells.currency,
    ),
    key=("kind", "item", "effective_from"),
    dated_by="effective_from",
    rules=remarks.price_remarks,
    notes=remarks.price_notes,
)
RATES = ImportKind(
    name="rates",
    words="tax and exchange rates",
    columns=_columns(CostRate, "kind", "name", "rate", "effective_from", "source"),
    key=("kind", "name", "effective_from"),
    dated_by="effective_from",
    rules=remarks.rate_remarks,
)
HEATER_SETS = ImportKind(
    name="heater_sets",
    words="heater sets as they were bought",
    columns=(
        _column(CostAsset, "item", heading="heater set"),
        *_columns(CostAsset, "bought_on", "first_cost", "salvage", "life_years", "life_hours"),
        *_columns(CostAsset, "hours_before", "source"),
    ),
    key=("item",),
    dated_by="bought_on",
    rules=remarks.asset_remarks,
)
STOCK = ImportKind(
    name="stock",
    words="new tyres in the store",
    columns=_columns(CostStock, "size", "on_hand", "promised", "counted_on", size=cells.size),
    key=("size",),
    rules=remarks.stock_remarks,
)
OUTCOMES = ImportKind(
    name="outcomes",
    words="past repairs and their outcomes",
    columns=_columns(
        CostOutcome, "serial", "zone", "size_class", "repaired_on", "hours", "distance_km", "failed"
    ),
    key=("serial", "zone", "repaired_on"),
    rules=remarks.outcome_remarks,
)
IMPORT_KINDS: Mapping[str, ImportKind] = {
    kind.name: kind for kind in (PRICES, RATES, HEATER_SETS, STOCK, OUTCOMES)
}
