"""Where the answer turns: the repair's life, its price and its odds at which it costs the same as new.

Each solves `cost_a_year(repair) = cost_a_year(new)` in closed form.
"""

from dataclasses import dataclass
from decimal import Decimal

from planner.costing.annuity import annuity_factor, discount_factor
from planner.costing.comparison import Comparison, Terms, cost_a_year, paid_now
from planner.costing.options import OptionKind, TyreOption
from planner.domain.money import Money


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakEven:
    """Where repair costs the same as new, one figure moved alone; None where none would turn it.

    The repair's least life [h], greatest outlay and greatest odds of failing; the least price of a new tyre.
    """

    hours: Decimal | None
    outlay: Money | None
    failure: Decimal | None
    new_price: Money | None


def break_even(comparison: Comparison) -> BreakEven:
    """Each break-even of repair against new, the other figures as they stand."""
    repair, new = comparison.option(OptionKind.REPAIR), comparison.option(OptionKind.NEW)
    terms = comparison.terms
    target = cost_a_year(new, terms) - repair.upkeep
    return BreakEven(
        hours=_hours(repair, terms, target),
        outlay=_outlay(repair, terms, target),
        failure=_failure(repair, terms, target),
        new_price=_outlay(new, terms, cost_a_year(repair, terms) - new.upkeep),
    )


def _outlay(option: TyreOption, terms: Terms, target: Money) -> Money | None:
    """The outlay at which the option's annual cost less its upkeep is the target."""
    success = 1 - option.failure
    years, rate = option.hours / terms.hours_a_year, terms.discount_rate
    worth = target * annuity_factor(rate, years) + option.salvage * discount_factor(rate, years)
    outlay = worth * success - (paid_now(option, terms) - option.outlay)
    return outlay if outlay.amount >= 0 else None


def _failure(option: TyreOption, terms: Terms, target: Money) -> Decimal | None:
    """The odds f of C + f F = (1 − f)(T a + R v^n)."""
    years, rate = option.hours / terms.hours_a_year, terms.discount_rate
    worth = target * annuity_factor(rate, years) + option.salvage * discount_factor(rate, years)
    sure = paid_now(option, terms) - option.if_fails * option.failure
    most = (worth + option.if_fails).amount
    odds = (worth - sure).amount / most if most > 0 else Decimal(-1)
    return odds if 0 <= odds <= 1 else None


def _hours(option: TyreOption, terms: Terms, target: Money) -> Decimal | None:
    """The hours n·H of K − R v^n = T (1 − v^n) / i, with K = paid now ÷ odds of success."""
    paid = paid_now(option, terms).amount / (1 - option.failure)
    salvage, rate = option.salvage.amount, terms.discount_rate
    if not rate:
        years = (paid - salvage) / target.amount if target.amount > 0 else Decimal(-1)
        return years * terms.hours_a_year if years >= 0 else None
    over = target.amount - salvage * rate
    left = (target.amount - paid * rate) / over if over > 0 else Decimal(-1)
    if not 0 < left <= 1:
        return None
    return -left.ln() / (1 + rate).ln() * terms.hours_a_year
