"""What moves the answer most: each figure of a comparison swung alone, the widest swing first."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from planner.costing.comparison import Comparison
from planner.costing.options import OptionKind, TyreOption
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.sentences import _


class Lever(StrEnum):
    """A figure that can be swung."""

    REPAIR_OUTLAY = "repair cost"
    REPAIR_HOURS = "life after repair"
    REPAIR_FAILURE = "odds that the repair fails"
    REPAIR_WAIT = "wait for the repair"
    NEW_PRICE = "price of a new tyre"
    NEW_HOURS = "life of a new tyre"
    NEW_WAIT = "wait for a new tyre"
    WAITING_COST = "cost of an hour's waiting"
    DISCOUNT_RATE = "discount rate"


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """The saving a year by repair with one figure low and high."""

    lever: Lever
    low_factor: Decimal
    high_factor: Decimal
    saving_low: Money
    saving_high: Money

    @property
    def width(self) -> Money:
        """How far the saving moves, whichever way."""
        return Money(abs((self.saving_high - self.saving_low).amount), self.saving_low.currency)

    @property
    def turns_the_answer(self) -> bool:
        """Whether repair is the cheaper at one end and not at the other."""
        return (self.saving_low.amount > 0) != (self.saving_high.amount > 0)


_Change = Callable[[Comparison, Decimal], Comparison]


def sensitivity(
    comparison: Comparison, factors: Mapping[Lever, tuple[Decimal, Decimal]]
) -> tuple[Swing, ...]:
    """The swings, the widest first; `factors` multiply each figure at its low and its high end."""
    swings = [_swing(comparison, lever, low, high) for lever, (low, high) in factors.items()]
    return tuple(sorted(swings, key=lambda swing: (-swing.width.amount, swing.lever)))


def even_factors(share: Decimal) -> dict[Lever, tuple[Decimal, Decimal]]:
    """Every figure by the same share down and up."""
    if not 0 < share < 1:
        raise InvalidValueError(_("a swing must be a share between 0 and 1"))
    return dict.fromkeys(Lever, (1 - share, 1 + share))


def _swing(comparison: Comparison, lever: Lever, low: Decimal, high: Decimal) -> Swing:
    change = _CHANGES[lever]
    return Swing(
        lever=lever,
        low_factor=low,
        high_factor=high,
        saving_low=change(comparison, low).saving_a_year(),
        saving_high=change(comparison, high).saving_a_year(),
    )


def _on(kind: OptionKind, change: Callable[[TyreOption, Decimal], TyreOption]) -> _Change:
    def changed(comparison: Comparison, factor: Decimal) -> Comparison:
        options = (change(each, factor) if each.kind is kind else each for each in comparison.options)
        return replace(comparison, options=tuple(options))

    return changed


def _outlay(option: TyreOption, factor: Decimal) -> TyreOption:
    return replace(option, outlay=option.outlay * factor)


def _hours(option: TyreOption, factor: Decimal) -> TyreOption:
    return replace(option, hours=option.hours * factor)


def _wait(option: TyreOption, factor: Decimal) -> TyreOption:
    return replace(option, wait_hours=option.wait_hours * factor)


def _failure(option: TyreOption, factor: Decimal) -> TyreOption:
    # Odds stay odds: certain failure has no cost per hour to compare.
    return replace(option, failure=min(option.failure * factor, Decimal("0.99")))


def _waiting_cost(comparison: Comparison, factor: Decimal) -> Comparison:
    terms = replace(comparison.terms, waiting_cost=comparison.terms.waiting_cost * factor)
    return replace(comparison, terms=terms)


def _discount_rate(comparison: Comparison, factor: Decimal) -> Comparison:
    rate = min(comparison.terms.discount_rate * factor, Decimal("0.99"))
    return replace(comparison, terms=replace(comparison.terms, discount_rate=rate))


_CHANGES: dict[Lever, _Change] = {
    Lever.REPAIR_OUTLAY: _on(OptionKind.REPAIR, _outlay),
    Lever.REPAIR_HOURS: _on(OptionKind.REPAIR, _hours),
    Lever.REPAIR_FAILURE: _on(OptionKind.REPAIR, _failure),
    Lever.REPAIR_WAIT: _on(OptionKind.REPAIR, _wait),
    Lever.NEW_PRICE: _on(OptionKind.NEW, _outlay),
    Lever.NEW_HOURS: _on(OptionKind.NEW, _hours),
    Lever.NEW_WAIT: _on(OptionKind.NEW, _wait),
    Lever.WAITING_COST: _waiting_cost,
    Lever.DISCOUNT_RATE: _discount_rate,
}
