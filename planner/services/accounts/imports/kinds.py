"""What can be imported: the columns of each kind of file, and what makes a row the same row."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import models

from planner.costing.options import OptionKind
from planner.models import CostAsset, CostOutcome, CostPrice, CostRate, CostStock
from planner.services.accounts.imports import cells


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column by its heading: the field that it fills, how it is read, and whether it may be left out."""

    name: str
    field: str
    read: Callable[[Any], Any]
    required: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportKind:
    """A kind of file; `dated_by` is the field whose month must be open."""

    name: str
    words: str
    model: type[models.Model]
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    dated_by: str = ""
    tidied: Callable[[dict[str, Any]], None] = lambda values: None

    def day_of(self, values: Mapping[str, Any]) -> date | None:
        """The day in whose month the row counts; None where it counts in none."""
        return values.get(self.dated_by)


def _column(name: str, read: Callable[[Any], Any], *, field: str = "", required: bool = True) -> Column:
    return Column(name=name, field=field or name.replace(" ", "_"), read=read, required=required)


def _price_tidied(values: dict[str, Any]) -> None:
    """A tyre's price is found by the normal form of its size."""
    if values.get("kind") in {OptionKind.NEW, OptionKind.RETREAD, OptionKind.SEND_OUT}:
        values["item"] = cells.size(values.get("item"))


_SINCE = (_column("effective from", cells.day), _column("source", cells.words))

PRICES = ImportKind(
    name="prices",
    words="prices",
    model=CostPrice,
    columns=(
        _column("kind", cells.lower),
        _column("item", cells.words),
        _column("unit", cells.words),
        _column("amount", cells.number),
        _column("currency", cells.currency),
        _column("loading", cells.number, required=False),
        _column("overtime factor", cells.number, required=False),
        *_SINCE,
    ),
    key=("kind", "item", "effective_from"),
    dated_by="effective_from",
    tidied=_price_tidied,
)
RATES = ImportKind(
    name="rates",
    words="tax and exchange rates",
    model=CostRate,
    columns=(
        _column("kind", cells.lower),
        _column("name", cells.words),
        _column("rate", cells.number),
        *_SINCE,
    ),
    key=("kind", "name", "effective_from"),
    dated_by="effective_from",
)
OUTCOMES = ImportKind(
    name="outcomes",
    words="past repairs and their outcomes",
    model=CostOutcome,
    columns=(
        _column("serial", cells.words),
        _column("zone", cells.lower),
        _column("size class", cells.lower),
        _column("repaired on", cells.day),
        _column("hours", cells.number),
        _column("distance km", cells.number, required=False),
        _column("failed", cells.yes_or_no),
    ),
    key=("serial", "zone", "repaired_on"),
)
STOCK = ImportKind(
    name="stock",
    words="new tyres in the store",
    model=CostStock,
    columns=(
        _column("size", cells.size),
        _column("on hand", cells.whole),
        _column("promised", cells.whole, required=False),
    ),
    key=("size",),
)
HEATER_SETS = ImportKind(
    name="heater_sets",
    words="heater sets as they were bought",
    model=CostAsset,
    columns=(
        _column("heater set", cells.words, field="item"),
        _column("bought on", cells.day),
        _column("first cost", cells.number),
        _column("salvage", cells.number, required=False),
        _column("life years", cells.whole),
        _column("life hours", cells.whole),
        _column("source", cells.words),
    ),
    key=("item",),
    dated_by="bought_on",
)
IMPORT_KINDS: Mapping[str, ImportKind] = {
    kind.name: kind for kind in (PRICES, RATES, HEATER_SETS, STOCK, OUTCOMES)
}
