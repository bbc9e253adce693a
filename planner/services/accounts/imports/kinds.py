"""What can be imported: the columns of each kind of file, and what makes a row the same row."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import models

from planner.costing.options import OptionKind
from planner.models import CostAsset, CostOutcome, CostPrice, CostRate, CostStock
from planner.services.imports import cells
from planner.services.imports.columns import Column, column


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


def _price_tidied(values: dict[str, Any]) -> None:
    """A tyre's price is found by the normal form of its size."""
    if values.get("kind") in {OptionKind.NEW, OptionKind.RETREAD, OptionKind.SEND_OUT}:
        values["item"] = cells.size(values.get("item"))


_SINCE = (column("effective from", cells.day), column("source", cells.words))

PRICES = ImportKind(
    name="prices",
    words="prices",
    model=CostPrice,
    columns=(
        column("kind", cells.lower),
        column("item", cells.words),
        column("unit", cells.words),
        column("amount", cells.number),
        column("currency", cells.currency),
        column("loading", cells.number, required=False),
        column("overtime factor", cells.number, required=False),
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
        column("kind", cells.lower),
        column("name", cells.words),
        column("rate", cells.number),
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
        column("serial", cells.words),
        column("zone", cells.lower),
        column("size class", cells.lower),
        column("repaired on", cells.day),
        column("hours", cells.number),
        column("distance km", cells.number, required=False),
        column("failed", cells.yes_or_no),
    ),
    key=("serial", "zone", "repaired_on"),
)
STOCK = ImportKind(
    name="stock",
    words="new tyres in the store",
    model=CostStock,
    columns=(
        column("size", cells.size),
        column("on hand", cells.whole),
        column("promised", cells.whole, required=False),
    ),
    key=("size",),
)
HEATER_SETS = ImportKind(
    name="heater_sets",
    words="heater sets as they were bought",
    model=CostAsset,
    columns=(
        column("heater set", cells.words, field="item"),
        column("bought on", cells.day),
        column("first cost", cells.number),
        column("salvage", cells.number, required=False),
        column("life years", cells.whole),
        column("life hours", cells.whole),
        column("source", cells.words),
    ),
    key=("item",),
    dated_by="bought_on",
)
IMPORT_KINDS: Mapping[str, ImportKind] = {
    kind.name: kind for kind in (PRICES, RATES, HEATER_SETS, STOCK, OUTCOMES)
}
