"""What a row of each kind must hold to beyond its single cells: codes on file, units, order of dates.

Each yields a column's field and what is wrong with it; a value that couldn't be read is not there, and a
value is put into its normal form on the way.
"""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from typing import Any

from planner.costing.lines import CostKind
from planner.costing.listed import ONLY_ITEMS, UNITS
from planner.costing.options import OptionKind
from planner.domain.errors import UserError
from planner.domain.sentences import Sentence, _, sentence_of
from planner.models.cost_rate import EXCHANGE, TAX
from planner.selectors.accounts.known import Known
from planner.selectors.accounts.planned_work import REPAIR_RUBBER
from planner.services.imports import cells

Values = dict[str, Any]
Remarks = Iterator[tuple[str, Sentence]]
_MOST_LOADING, _MOST_FACTOR = 5, 5
_MOST_KM_AN_HOUR = 80


def price_remarks(known: Known, values: Values) -> Remarks:
    """A price's item, unit and currency, and what only labour has."""
    kind = values.get("kind")
    if "item" in values:
        yield from _item_remarks(known, kind, values)
    yield from _unit_remarks(known, kind, values)
    yield from _currency_remarks(known, values)
    if values.get("loading", 0) > _MOST_LOADING:
        yield "loading", _("is a share of the wage, {most_loading} at most", most_loading=_MOST_LOADING)
    if values.get("overtime_factor", 1) > _MOST_FACTOR:
        yield (
            "overtime_factor",
            _("is a multiple of the wage, {most_factor} at most", most_factor=_MOST_FACTOR),
        )
    if kind not in {None, CostKind.LABOUR}:
        for field, nothing in (("loading", 0), ("overtime_factor", 1)):
            if values.get(field, nothing) != nothing:
                yield field, _("only labour has it")


def price_notes(known: Known, values: Values) -> Remarks:
    """What may be meant, but rarely is."""
    grade = values.get("item")
    if values.get("kind") == CostKind.LABOUR and grade not in known.grades:
        yield "item", _("no technician here has the grade '{grade}': check its spelling", grade=grade)


def rate_remarks(known: Known, values: Values) -> Remarks:
    """A tax is a share; an exchange rate has a currency other than the site's own."""
    kind, rate = values.get("kind"), values.get("rate", Decimal(1))
    if kind == TAX and rate > 1:
        yield "rate", _("a tax is a share from 0 to 1, such as 0.1 for 10 %, not {rate}", rate=rate)
    if kind == EXCHANGE and rate == 0:
        yield "rate", _("an exchange rate is more than 0")
    if kind == EXCHANGE and "name" in values:
        try:
            values["name"] = cells.currency(values["name"])
        except UserError as fault:
            yield "name", sentence_of(fault)
        if values["name"] == known.currency:
            yield "name", _("{currency} is the site's own currency", currency=known.currency)


def outcome_remarks(known: Known, values: Values) -> Remarks:
    """A past repair lies in the past, and ran no longer and no faster than it can have."""
    # A site without size classes may use words of its own: its records are then pooled by them.
    if known.size_classes and values.get("size_class", "") not in known.size_classes | {""}:
        there = ", ".join(sorted(known.size_classes))
        yield (
            "size_class",
            _("'{value}' is no size class of the site ({there})", value=values["size_class"], there=there),
        )
    yield from _future_remarks(known, values, "repaired_on")
    hours, distance = values.get("hours"), values.get("distance_km")
    if hours is not None and "repaired_on" in values:
        since = (known.today - values["repaired_on"] + timedelta(days=1)).days * 24
        if since > 0 and hours > since:
            yield (
                "hours",
                _("{hours} h is more than the {since} h since the repair", hours=hours, since=since),
            )
    if hours and distance and distance > hours * _MOST_KM_AN_HOUR:
        yield (
            "distance_km",
            _(
                "{distance} km in {hours} h is faster than {most_km_an_hour} km/h",
                distance=distance,
                hours=hours,
                most_km_an_hour=_MOST_KM_AN_HOUR,
            ),
        )


def stock_remarks(known: Known, values: Values) -> Remarks:
    """Nobody has counted tomorrow's stock."""
    yield from _future_remarks(known, values, "counted_on")


def asset_remarks(known: Known, values: Values) -> Remarks:
    """A set of the site, bought already, that is not worth more at its end than at first."""
    if values.get("item", "") not in known.heater_sets | {""}:
        yield "item", _("'{value}' is no heater set of the site", value=values["item"])
    yield from _future_remarks(known, values, "bought_on")
    if values.get("salvage", 0) > values.get("first_cost", Decimal("inf")):
        yield "salvage", _("is more than the first cost")


def _item_remarks(known: Known, kind: Any, values: Values) -> Remarks:
    item = values["item"]
    if kind in {OptionKind.NEW, OptionKind.RETREAD, OptionKind.SEND_OUT}:
        try:
            values["item"] = cells.size(item)
        except UserError as fault:
            yield "item", sentence_of(fault)
    elif kind in ONLY_ITEMS and item != ONLY_ITEMS[kind]:
        yield (
            "item",
            _(
                "the item of {kind} is called '{only_items}', not '{item}'",
                kind=kind,
                only_items=ONLY_ITEMS[kind],
                item=item,
            ),
        )
    elif kind == CostKind.HEATER_SET and item not in known.heater_sets:
        yield "item", _("'{item}' is no heater set of the site", item=item)
    elif kind == CostKind.MATERIAL and item not in {*known.materials, REPAIR_RUBBER}:
        yield "item", _("'{item}' is no material of the site", item=item)


def _unit_remarks(known: Known, kind: Any, values: Values) -> Remarks:
    materials = {REPAIR_RUBBER: "kg", **known.materials}
    wanted = materials.get(values.get("item", "")) if kind == CostKind.MATERIAL else UNITS.get(kind)
    unit = values.get("unit")
    if wanted is None or unit is None:
        return
    if unit.lower() == wanted.lower():
        values["unit"] = wanted
    else:
        yield (
            "unit",
            _("a price of {kind} is for one {wanted}, not for '{unit}'", kind=kind, wanted=wanted, unit=unit),
        )


def _currency_remarks(known: Known, values: Values) -> Remarks:
    currency, since = values.get("currency"), values.get("effective_from")
    if currency in {None, known.currency}:
        return
    first = known.exchange_from.get(str(currency))
    if first is None or (since is not None and first > since):
        when = f" on {since}" if since else ""
        yield (
            "currency",
            _(
                "no exchange rate of {currency} to {known_currency} holds{when}: enter one first",
                currency=currency,
                known_currency=known.currency,
                when=when,
            ),
        )


def _future_remarks(known: Known, values: Values, field: str) -> Remarks:
    if field in values and values[field] > known.today:
        yield field, _("{value} is still to come", value=values[field])
