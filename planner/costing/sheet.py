"""The cost sheet of a repair: its work at the prices of a day.

The estimate is the sheet of the planned work, the actual is the sheet of the recorded work.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planner.costing.figures import Given
from planner.costing.lines import CostKind, CostLine, CostSheet
from planner.costing.rates import DayPrice, RateBook
from planner.costing.work import HeaterSetUse, RepairWork, StageLabour
from planner.domain.money import Money

BAY_HOUR = "bay hour"
ENERGY = "electricity"
TRIP = "trip"
INSPECTION = "final inspection"
DISPOSAL = "scrapped tyre"

# What is spent again where a repair must be done over.
_DONE_AGAIN = frozenset(
    {
        CostKind.LABOUR,
        CostKind.OVERTIME,
        CostKind.MATERIAL,
        CostKind.ENERGY,
        CostKind.HEATER_SET,
        CostKind.BAY,
    }
)


def cost_sheet(work: RepairWork, book: RateBook, day: date) -> CostSheet:
    """The work at the prices that held on the day; UserError names a price or a rate that is missing."""
    desk = _Desk(book=book, day=day)
    spent = (*_labour(work, desk), *_quantities(work, desk))
    sheet = CostSheet(currency=book.currency, lines=spent)
    taxed = (*spent, *_tax(sheet, desk))
    risk = _rework(CostSheet(currency=book.currency, lines=taxed), work.rework, desk)
    lines = (*taxed, *risk, *desk.line(CostKind.DISPOSAL, DISPOSAL, work.failure))
    return CostSheet(currency=book.currency, lines=lines)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Desk:
    """Where lines are written: the book open at a day."""

    book: RateBook
    day: date

    def line(
        self,
        kind: CostKind,
        item: str,
        quantity: Decimal,
        *,
        minutes: bool = False,
        came_from: tuple[Given, ...] = (),
    ) -> Iterator[CostLine]:
        """A line at the day's price, with what its quantity came from; none where nothing was used."""
        if quantity:
            found = self.book.price_on(kind, item, self.day)
            unit = "min" if minutes else found.unit
            givens = (*came_from, *found.givens)
            yield self.priced(kind, item, quantity, unit, found.price, givens, per=60 if minutes else 1)

    def priced(
        self,
        kind: CostKind,
        item: str,
        quantity: Decimal,
        unit: str,
        price: Money,
        givens: tuple[Given, ...] = (),
        per: int = 1,
    ) -> CostLine:
        """A line at a given price."""
        return CostLine(
            kind=kind,
            item=item,
            quantity=quantity,
            unit=unit,
            price=price,
            per=per,
            givens=givens,
            rounding=self.book.rounding,
        )


def _labour(work: RepairWork, desk: _Desk) -> Iterator[CostLine]:
    for labour in work.labour:
        if labour.minutes:
            rate = desk.book.price_on(CostKind.LABOUR, labour.grade, desk.day)
            yield _ordinary(labour, rate, desk)
            if labour.overtime_minutes:
                yield _premium(labour, rate, desk)


def _item(labour: StageLabour) -> str:
    return f"{labour.stage}, {labour.grade}"


def _ordinary(labour: StageLabour, rate: DayPrice, desk: _Desk) -> CostLine:
    loading = Given(label="loading", value=rate.loading, unit="share of the listed price")
    price = rate.price * (1 + rate.loading)
    givens = (*rate.givens, loading)
    return desk.priced(CostKind.LABOUR, _item(labour), labour.minutes, "min", price, givens, per=60)


def _premium(labour: StageLabour, rate: DayPrice, desk: _Desk) -> CostLine:
    factor = Given(label="overtime factor", value=rate.overtime_factor, unit="times the loaded rate")
    price = rate.price * (1 + rate.loading) * (rate.overtime_factor - 1)
    givens = (*rate.givens, factor)
    return desk.priced(
        CostKind.OVERTIME, _item(labour), labour.overtime_minutes, "min", price, givens, per=60
    )


def _quantities(work: RepairWork, desk: _Desk) -> Iterator[CostLine]:
    for use in work.materials:
        yield from desk.line(CostKind.MATERIAL, use.material, use.quantity)
    yield from desk.line(CostKind.ENERGY, ENERGY, work.energy_kwh, came_from=work.energy_from)
    for held in work.heater_sets:
        yield _held(held, desk)
    yield from desk.line(CostKind.BAY, BAY_HOUR, work.bay_minutes, minutes=True)
    yield from desk.line(CostKind.TRANSPORT, TRIP, work.trips)
    yield from desk.line(CostKind.INSPECTION, INSPECTION, work.inspections)


def _held(held: HeaterSetUse, desk: _Desk) -> CostLine:
    """A set's minutes; those beyond its life, where it is written off by hours, are told and not charged."""
    found = desk.book.price_on(CostKind.HEATER_SET, held.heater_set, desk.day)
    left = held.minutes if found.left_hours is None else found.left_hours * 60
    charged = min(held.minutes, left)
    beyond = Given(label="held beyond its life", value=held.minutes - charged, unit="min, not charged")
    givens = (*found.givens, beyond) if beyond.value else found.givens
    return desk.priced(CostKind.HEATER_SET, held.heater_set, charged, "min", found.price, givens, per=60)


def _tax(sheet: CostSheet, desk: _Desk) -> Iterator[CostLine]:
    base = sheet.subtotal(desk.book.taxed)
    for rate in desk.book.taxes_on(desk.day):
        if rate.rate and base.amount:
            source = f"{rate.source}, from {rate.effective_from}"
            given = Given(label=rate.name, value=rate.rate, unit="share", source=source)
            yield desk.priced(CostKind.TAX, rate.name, rate.rate, "share of what is taxed", base, (given,))


def _rework(sheet: CostSheet, odds: Decimal, desk: _Desk) -> Iterator[CostLine]:
    """One more repair at its odds; a second one on top is left out."""
    again = sheet.subtotal(_DONE_AGAIN)
    if odds and again.amount:
        yield desk.priced(CostKind.REWORK, "repair done over", odds, "repairs", again)
