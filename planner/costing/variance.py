"""Why an actual cost differs from its estimate, by cause, to the cent."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.costing.lines import CostKind, CostLine, CostSheet
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, money_sum
from planner.domain.sentences import _

NOT_PLANNED = "not planned"
MIX = "mix"

# By kind: the cause where the quantity differs, the cause where the price does.
_CAUSES: dict[CostKind, tuple[str, str]] = {
    CostKind.LABOUR: ("efficiency", "rate"),
    CostKind.OVERTIME: ("overtime", "rate"),
    CostKind.MATERIAL: ("usage", "price"),
    CostKind.ENERGY: ("usage", "price"),
    CostKind.HEATER_SET: ("efficiency", "rate"),
    CostKind.BAY: ("efficiency", "rate"),
    CostKind.TRANSPORT: ("usage", "price"),
    CostKind.INSPECTION: ("usage", "price"),
    CostKind.TAX: ("tax rate", "taxed amount"),
    CostKind.REWORK: ("outcome", "price"),
    CostKind.DISPOSAL: ("outcome", "price"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Variance:
    """A part of actual less estimate that has one cause; more than nothing is dearer than estimated."""

    kind: CostKind
    item: str
    cause: str
    amount: Money


def variances(estimate: CostSheet, actual: CostSheet) -> tuple[Variance, ...]:
    """Every difference by cause; they add up to actual less estimate exactly.

    The quantity's part is its difference at the estimated price, rounded as the line is; the price's part is
    all the rest, so it carries what rounding leaves. Lines that stand in for each other, such as the grades
    on one stage, are held against each other together: what another choice of them costs is the mix.
    """
    if estimate.currency != actual.currency:
        raise InvalidValueError(
            _(
                "an estimate in {currency} has no variance in {actual_currency}",
                currency=estimate.currency,
                actual_currency=actual.currency,
            )
        )
    planned, recorded = _grouped(estimate), _grouped(actual)
    groups = dict.fromkeys((*planned, *recorded))
    parts = (part for key in groups for part in _group_variances(planned.get(key, ()), recorded.get(key, ())))
    return tuple(part for part in parts if part.amount.amount)


def variance_by_cause(parts: tuple[Variance, ...], currency: str) -> dict[str, Money]:
    """The sum of each cause, in order of its name."""
    causes = sorted({part.cause for part in parts})
    return {
        cause: money_sum((part.amount for part in parts if part.cause == cause), currency) for cause in causes
    }


def _grouped(sheet: CostSheet) -> dict[tuple[CostKind, str], tuple[CostLine, ...]]:
    """The lines that stand in for each other, together."""
    groups: dict[tuple[CostKind, str], tuple[CostLine, ...]] = {}
    for line in sheet.lines:
        groups[line.group] = (*groups.get(line.group, ()), line)
    return groups


def _group_variances(planned: tuple[CostLine, ...], recorded: tuple[CostLine, ...]) -> Iterator[Variance]:
    keys = {line.key for line in planned}, {line.key for line in recorded}
    if planned and recorded and keys[0] != keys[1]:
        yield from _mixed_variances(planned, recorded)
        return
    pairs: dict[tuple[CostKind, str], list[CostLine | None]] = {}
    for place, lines in enumerate((planned, recorded)):
        for line in lines:
            pairs.setdefault(line.key, [None, None])[place] = line
    for one, two in pairs.values():
        yield from _line_variances(one, two)


def _mixed_variances(planned: tuple[CostLine, ...], recorded: tuple[CostLine, ...]) -> Iterator[Variance]:
    """The quantity's part at the average estimated price, and the rest: other grades, sets or rates."""
    first = planned[0]
    before, after = (
        money_sum((line.amount for line in lines), first.price.currency) for lines in (planned, recorded)
    )
    quantities = [sum(line.quantity for line in lines) for lines in (planned, recorded)]
    more = before * (quantities[1] - quantities[0]) / quantities[0] if quantities[0] else before * 0
    quantity = more.rounded(first.rounding)
    item = first.group[1]
    yield Variance(kind=first.kind, item=item, cause=_CAUSES[first.kind][0], amount=quantity)
    yield Variance(kind=first.kind, item=item, cause=MIX, amount=after - before - quantity)


def _line_variances(planned: CostLine | None, recorded: CostLine | None) -> Iterator[Variance]:
    line = planned or recorded
    if line is None:
        return
    if planned is None:
        yield _variance(line, NOT_PLANNED, line.amount)
        return
    by_quantity, by_price = _CAUSES[line.kind]
    if recorded is None:
        yield _variance(line, by_quantity, -line.amount)
        return
    quantity = _quantity_part(planned, recorded)
    yield _variance(line, by_quantity, quantity)
    yield _variance(line, by_price, recorded.amount - planned.amount - quantity)


def _quantity_part(planned: CostLine, recorded: CostLine) -> Money:
    # A line whose price is unchanged differs by its quantity alone, rounding and all.
    if recorded.price == planned.price:
        return recorded.amount - planned.amount
    more = planned.price * (recorded.quantity - planned.quantity) / planned.per
    return more.rounded(planned.rounding)


def _variance(line: CostLine, cause: str, amount: Money) -> Variance:
    return Variance(kind=line.kind, item=line.item, cause=cause, amount=amount)
