"""Time value of money: present worth, equivalent annual cost and economic life.

All streams are paid at the ends of years. Source: R. Panneerselvam, Engineering Economics, chapters 3, 6
and 8.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.sentences import _


# A sensitivity asks for the same few factors again and again, and each costs a Decimal power.
@lru_cache(maxsize=1024)
def discount_factor(rate: Decimal, years: Decimal) -> Decimal:
    """What one unit in so many years is worth now: (1 + i)^−n, also for parts of years."""
    _sound_rate(rate)
    return (1 + rate) ** -years if rate else Decimal(1)


def annuity_factor(rate: Decimal, years: Decimal) -> Decimal:
    """The worth now of one unit a year: (1 − (1 + i)^−n) / i; without interest, n [years]."""
    _sound_rate(rate)
    return (1 - discount_factor(rate, years)) / rate if rate else years


def present_worth(stream: Sequence[Money], rate: Decimal) -> Money:
    """The worth now of a stream whose first amount is paid now, the second after a year and so on."""
    if not stream:
        raise InvalidValueError(_("a stream needs at least one amount"))
    total = Money(Decimal(0), stream[0].currency)
    for year, amount in enumerate(stream):
        total += amount * discount_factor(rate, Decimal(year))
    return total


def equivalent_annual_cost(
    *, first: Money, salvage: Money, yearly: Money, rate: Decimal, years: Decimal
) -> Money:
    """The even yearly payment worth the same as buying, running and selling [a year]."""
    if years <= 0:
        raise InvalidValueError(_("an equivalent annual cost needs a life of more than 0 years"))
    net = first - salvage * discount_factor(rate, years)
    return net / annuity_factor(rate, years) + yearly


@dataclass(frozen=True, slots=True, kw_only=True)
class EconomicLife:
    """The number of years with the least equivalent annual cost, and that cost."""

    years: int
    annual_cost: Money


def economic_life(
    first: Money, upkeep: Sequence[Money], salvages: Sequence[Money], rate: Decimal
) -> EconomicLife:
    """The best year to replace, of those for which `upkeep` and `salvages` (at each year's end) are given."""
    if not upkeep or len(upkeep) != len(salvages):
        raise InvalidValueError(_("upkeep and salvage must be given for the same years, at least one"))
    costs = _annual_costs(first, upkeep, salvages, rate)
    years, cost = min(enumerate(costs, start=1), key=lambda pair: pair[1].amount)
    return EconomicLife(years=years, annual_cost=cost)


def _annual_costs(
    first: Money, upkeep: Sequence[Money], salvages: Sequence[Money], rate: Decimal
) -> Iterator[Money]:
    spent = first
    for year, (cost, salvage) in enumerate(zip(upkeep, salvages, strict=True), start=1):
        factor = discount_factor(rate, Decimal(year))
        spent += cost * factor
        yield (spent - salvage * factor) / annuity_factor(rate, Decimal(year))


def _sound_rate(rate: Decimal) -> None:
    if rate <= -1:
        raise InvalidValueError(_("a yearly discount rate must be more than −100 %"))
