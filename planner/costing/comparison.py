"""Repair against new: cost per remaining hour and equivalent annual cost of each option.

Expected cost over expected service, so the long run of many such tyres is what is compared. With odds f that
the work gains nothing, outlay C, further cost F, casing worth R after n years and annuity factor a(n),

    annual cost = (C + f F − (1 − f) R v^n) / ((1 − f) a(n)) + upkeep,    v = 1 / (1 + i).

Without interest a(n) = n, and the annual cost is the cost per hour times the hours a year.
"""

from dataclasses import dataclass
from decimal import Decimal

from planner.costing.annuity import annuity_factor, discount_factor
from planner.costing.figures import Figure, Given
from planner.costing.options import OptionKind, TyreOption
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What holds for every option: running hours a year [h], discount rate a year, waiting [per h]."""

    hours_a_year: Decimal
    discount_rate: Decimal
    waiting_cost: Money

    def __post_init__(self) -> None:
        if self.hours_a_year <= 0:
            raise InvalidValueError(_("running hours a year must be more than 0"))
        if not 0 <= self.discount_rate < 1:
            raise InvalidValueError(_("the yearly discount rate must be from 0 to less than 1"))


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionCost:
    """An option with what it costs an hour (undiscounted) and a year (discounted)."""

    option: TyreOption
    per_hour: Money
    per_year: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Options for one tyre under the same terms; repair and new are always among them."""

    terms: Terms
    options: tuple[TyreOption, ...]

    def __post_init__(self) -> None:
        kinds = [option.kind for option in self.options]
        if len(set(kinds)) != len(kinds) or not {OptionKind.REPAIR, OptionKind.NEW} <= set(kinds):
            raise InvalidValueError(_("a comparison has repair, new and each other option once"))

    def option(self, kind: OptionKind) -> TyreOption:
        """The option of that kind; InvalidValueError where the comparison has none."""
        found = next((option for option in self.options if option.kind is kind), None)
        if found is None:
            raise InvalidValueError(_("the comparison has no option to {kind}", kind=kind))
        return found

    def costs(self) -> tuple[OptionCost, ...]:
        """Every option's cost, the cheapest a year first."""
        costs = (option_cost(option, self.terms) for option in self.options)
        return tuple(sorted(costs, key=lambda cost: cost.per_year.amount))

    def saving_a_year(self) -> Money:
        """How much less a year of running costs by repair than by new; below nothing where new is cheaper."""
        new, repair = self.option(OptionKind.NEW), self.option(OptionKind.REPAIR)
        return cost_a_year(new, self.terms) - cost_a_year(repair, self.terms)


def option_cost(option: TyreOption, terms: Terms) -> OptionCost:
    """What the option costs, unrounded."""
    return OptionCost(
        option=option, per_hour=cost_an_hour(option, terms), per_year=cost_a_year(option, terms)
    )


def paid_now(option: TyreOption, terms: Terms) -> Money:
    """Outlay, waiting and the expected cost of failing."""
    return option.outlay + terms.waiting_cost * option.wait_hours + option.if_fails * option.failure


def cost_an_hour(option: TyreOption, terms: Terms) -> Money:
    """Expected cost over expected hours, without discounting [per h]."""
    return cost_a_length(option, terms, option.hours, terms.hours_a_year)


def cost_a_length(option: TyreOption, terms: Terms, length: Decimal, length_a_year: Decimal) -> Money:
    """Expected cost over expected service in any measure of it, without discounting [per h or per km]."""
    success = 1 - option.failure
    net = paid_now(option, terms) - option.salvage * success
    return net / (success * length) + option.upkeep / length_a_year


def cost_a_year(option: TyreOption, terms: Terms) -> Money:
    """Equivalent annual cost [a year]."""
    success = 1 - option.failure
    years, rate = option.hours / terms.hours_a_year, terms.discount_rate
    net = paid_now(option, terms) - option.salvage * success * discount_factor(rate, years)
    return net / (success * annuity_factor(rate, years)) + option.upkeep


def option_figure(option: TyreOption, terms: Terms) -> Figure:
    """The cost per hour, opened to what is paid, when, and for how many hours."""
    currency = option.outlay.currency
    success = 1 - option.failure
    parts = (
        Figure(label="outlay", amount=option.outlay, formula="from the cost sheet or the price list"),
        Figure(
            label="waiting",
            amount=terms.waiting_cost * option.wait_hours,
            formula="hours waited × cost of an hour's waiting",
            givens=(
                Given(label="hours waited", value=option.wait_hours, unit="h"),
                Given(label="an hour's waiting", value=terms.waiting_cost.amount, unit=f"{currency} per h"),
            ),
        ),
        Figure(
            label="failing",
            amount=option.if_fails * option.failure,
            formula="odds of failing × what a failure costs",
            givens=(Given(label="odds of failing", value=option.failure, unit="share"),),
        ),
        Figure(label="casing worth", amount=-option.salvage * success, formula="− worth × odds of success"),
    )
    return Figure(
        label=f"{option.kind}: cost per remaining hour",
        amount=cost_an_hour(option, terms),
        formula="sum of the parts ÷ (hours × odds of success) + upkeep a year ÷ hours a year",
        parts=parts,
        givens=_figure_givens(option, terms),
    )


def _figure_givens(option: TyreOption, terms: Terms) -> tuple[Given, ...]:
    return (
        Given(label="remaining hours", value=option.hours, unit="h"),
        Given(label="upkeep", value=option.upkeep.amount, unit=f"{option.upkeep.currency} a year"),
        Given(label="running hours", value=terms.hours_a_year, unit="h a year"),
        Given(label="discount rate", value=terms.discount_rate, unit="a year"),
    )
