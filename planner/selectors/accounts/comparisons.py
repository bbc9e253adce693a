"""Repair against new for one work order: costs, odds, what turns the answer, and advice."""

from dataclasses import dataclass
from decimal import Decimal

from planner.costing.advice import Advice, Clarity, advise, advise_against
from planner.costing.assumptions import Assumption
from planner.costing.break_even import BreakEven, break_even
from planner.costing.comparison import Comparison, OptionCost, option_figure
from planner.costing.lines import CostSheet
from planner.costing.options import StockPosition
from planner.costing.sensitivity import Swing, even_factors, sensitivity
from planner.domain.errors import UserError
from planner.domain.permissions import Action
from planner.domain.plan import Reason
from planner.domain.sentences import _, sentence_of
from planner.engineering.comparison_odds import Odds, comparison_odds
from planner.engineering.life_bound import LifeBounds
from planner.engineering.life_estimate import LifeEstimate
from planner.models import Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.desk import Desk, desk_get
from planner.selectors.accounts.distances import Distances, distances_of
from planner.selectors.accounts.limits import breaches_get
from planner.selectors.accounts.lives import life_records_get
from planner.selectors.accounts.sheets import FigureRow, estimated, figure_rows
from planner.selectors.accounts.uncertainty import uncertain_of
from planner.selectors.accounts.ways import (
    bounds_of,
    new_of,
    others_of,
    repair_of,
    stock_of,
    terms_of,
    weakest_of,
)
from planner.selectors.work_orders import work_order_get

_SWING = Decimal("0.2")


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairComparison:
    """Everything that a person needs to decide on one tyre."""

    order: WorkOrder
    estimate: CostSheet
    comparison: Comparison
    costs: tuple[OptionCost, ...]
    odds: Odds
    turn: BreakEven
    swings: tuple[Swing, ...]
    life: LifeEstimate
    distances: Distances | None
    bounds: LifeBounds
    stock: StockPosition
    advice: Advice

    def figures(self) -> list[list[FigureRow]]:
        """Each option's cost per hour, opened, and the estimate of the repair, opened."""
        options = [figure_rows(option_figure(cost.option, self.comparison.terms)) for cost in self.costs]
        return [*options, figure_rows(self.estimate.figure("estimate of the repair"))]


def repair_comparison_get(*, user: User, site: Site, number: int) -> RepairComparison:
    """The comparison of one work order; UserError says which price, assumption or injury is missing."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    order = work_order_get(user=user, site=site, number=number)
    return compared(order, desk_get(site=site, order=order))


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairRefused:
    """A tyre beyond a limit of the site that can't be costed either, such as one whose zone has no route."""

    order: WorkOrder
    advice: Advice
    fault: str


def comparison_or_refusal_get(*, user: User, site: Site, number: int) -> RepairComparison | RepairRefused:
    """The comparison; where there is none, the limits that the tyre is beyond, else the UserError itself."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    order = work_order_get(user=user, site=site, number=number)
    desk = desk_get(site=site, order=order)
    try:
        return compared(order, desk)
    except UserError as fault:
        breaches = breaches_get(order=order, assumed=desk.assumed, day=desk.day)
        if not breaches:
            raise
        return RepairRefused(order=order, advice=advise_against(breaches), fault=sentence_of(fault))


def compared(order: WorkOrder, desk: Desk) -> RepairComparison:
    """The comparison of an order on a desk."""
    estimate = estimated(order, desk)
    records = life_records_get(site=desk.site)
    weakest, bounds, stock = weakest_of(order, desk, records), bounds_of(order, desk), stock_of(order, desk)
    life = weakest.life
    options = (repair_of(estimate, life, bounds, stock, desk), new_of(order, stock, desk))
    others = others_of(order, options[0], bounds, stock, desk)
    comparison = Comparison(terms=terms_of(desk), options=(*options, *others))
    odds = comparison_odds(uncertain_of(comparison, life, bounds, desk.assumed), seed=order.number)
    breaches = (*breaches_get(order=order, assumed=desk.assumed, day=desk.day), *_worn_out(bounds))
    clarity = Clarity(odds=desk.assumed[Assumption.CLEAR_ODDS])
    return RepairComparison(
        order=order,
        estimate=estimate,
        comparison=comparison,
        costs=comparison.costs(),
        odds=odds,
        turn=break_even(comparison),
        swings=sensitivity(comparison, even_factors(_SWING)),
        life=life,
        distances=distances_of(comparison, records, weakest, desk.assumed, bounds),
        bounds=bounds,
        stock=stock,
        advice=advise(comparison, Decimal(str(round(odds.repair_cheaper, 4))), breaches, clarity),
    )


def _worn_out(bounds: LifeBounds) -> tuple[Reason, ...]:
    if bounds.hours >= 1:
        return ()
    return (
        Reason(code="no-hours-left", message=_("its {cause} leaves it no running hours", cause=bounds.cause)),
    )


def repair_hours(order: WorkOrder, desk: Desk) -> float:
    """The running hours that a repair of the order is expected to gain on a desk, within its bounds [h]."""
    weakest = weakest_of(order, desk, life_records_get(site=desk.site))
    return weakest.life.life.mean_within(bounds_of(order, desk).hours)
