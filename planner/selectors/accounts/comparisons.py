"""Repair against new for one work order: costs, odds, what turns the answer, and advice."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from planner.costing.advice import Advice, Clarity, advise
from planner.costing.assumptions import Assumed, Assumption
from planner.costing.break_even import BreakEven, break_even
from planner.costing.comparison import Comparison, OptionCost, Terms, option_figure
from planner.costing.lines import CostSheet
from planner.costing.options import OptionKind, StockPosition, TyreOption, repair_outlay
from planner.costing.rates import RateBook
from planner.costing.sensitivity import Swing, even_factors, sensitivity
from planner.costing.sheet import cost_sheet
from planner.domain.errors import NotFoundError
from planner.domain.money import Money
from planner.domain.permissions import Action
from planner.domain.plan import Reason
from planner.domain.size_reading import size_read
from planner.engineering.comparison_odds import (
    Odds,
    UncertainComparison,
    UncertainOutlay,
    UncertainWay,
    comparison_odds,
)
from planner.engineering.life_bound import LifeBounds
from planner.engineering.life_estimate import LifeEstimate
from planner.engineering.life_weibull import weibull_assumed
from planner.models import CostStock, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import assumed_get, rate_book_get, site_day
from planner.selectors.accounts.limits import breaches_get
from planner.selectors.accounts.lives import bounds_get, life_get
from planner.selectors.accounts.planned_work import Grades, grades_get, planned_work_get
from planner.selectors.accounts.sheets import FigureRow, figure_rows
from planner.selectors.routes import size_class_get
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
    bounds: LifeBounds
    stock: StockPosition
    advice: Advice

    def figures(self) -> list[list[FigureRow]]:
        """Each option's cost per hour, opened, and the estimate of the repair, opened."""
        options = [figure_rows(option_figure(cost.option, self.comparison.terms)) for cost in self.costs]
        return [*options, figure_rows(self.estimate.figure("estimate of the repair"))]


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What many comparisons of a site share on a day."""

    site: Site
    day: date
    book: RateBook
    assumed: Assumed
    grades: Grades


def desk_get(*, site: Site) -> Desk:
    """The books as they stand today."""
    day = site_day(site)
    return Desk(
        site=site,
        day=day,
        book=rate_book_get(site=site),
        assumed=assumed_get(site=site, day=day),
        grades=grades_get(site=site),
    )


def repair_comparison_get(*, user: User, site: Site, number: int) -> RepairComparison:
    """The comparison of one work order; UserError says which price, assumption or injury is missing."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    order = work_order_get(user=user, site=site, number=number)
    return compared(order, desk_get(site=site))


def compared(order: WorkOrder, desk: Desk) -> RepairComparison:
    """The comparison of an order on a desk."""
    work = planned_work_get(order=order, assumed=desk.assumed, grades=desk.grades)
    estimate = cost_sheet(work, desk.book, desk.day)
    life, bounds, stock = _life(order, desk), _bounds(order, desk), _stock(order, desk)
    options = (_repair(estimate, life, bounds, stock, desk), _new(order, stock, desk))
    comparison = Comparison(terms=_terms(desk), options=(*options, *_others(order, options[0], desk)))
    odds = comparison_odds(_uncertain(comparison, life, bounds, desk.assumed), seed=order.number)
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
        bounds=bounds,
        stock=stock,
        advice=advise(comparison, Decimal(str(round(odds.repair_cheaper, 4))), breaches, clarity),
    )


def _worn_out(bounds: LifeBounds) -> tuple[Reason, ...]:
    if bounds.hours >= 1:
        return ()
    return (Reason(code="no-hours-left", message=f"its {bounds.cause} leaves it no running hours"),)


def _terms(desk: Desk) -> Terms:
    waiting = Money(desk.assumed[Assumption.WAITING_COST], desk.book.currency)
    return Terms(
        hours_a_year=desk.assumed[Assumption.HOURS_A_YEAR],
        discount_rate=desk.assumed[Assumption.DISCOUNT_RATE],
        waiting_cost=waiting,
    )


def _life(order: WorkOrder, desk: Desk) -> LifeEstimate:
    damage = order.damages.first()
    size_class = size_class_get(site=desk.site, size=size_read(order.tyre.size).size)
    if damage is None:
        raise NotFoundError(f"{order} has no injury on record: measure it first")
    code = size_class.code if size_class else ""
    return life_get(site=desk.site, zone=damage.zone, size_class=code, assumed=desk.assumed)


def _bounds(order: WorkOrder, desk: Desk) -> LifeBounds:
    return bounds_get(tyre=order.tyre, assumed=desk.assumed, day=desk.day)


def _stock(order: WorkOrder, desk: Desk) -> StockPosition:
    row = CostStock.objects.filter(site=desk.site, size=order.tyre.size).first()
    return StockPosition(
        on_hand=row.on_hand if row else 0,
        promised=row.promised if row else 0,
        lead_time_hours=desk.assumed[Assumption.LEAD_TIME],
    )


def _repair(
    estimate: CostSheet, life: LifeEstimate, bounds: LifeBounds, stock: StockPosition, desk: Desk
) -> TyreOption:
    outlay = repair_outlay(estimate)
    nothing = Money(Decimal(0), estimate.currency)
    hours = Decimal(str(round(life.life.mean_within(bounds.hours), 1)))
    return TyreOption(
        kind=OptionKind.REPAIR,
        outlay=outlay.spent,
        hours=max(hours, Decimal(1)),
        failure=desk.assumed[Assumption.FAILURE_ODDS],
        if_fails=outlay.if_fails,
        salvage=nothing,
        upkeep=nothing,
        wait_hours=stock.wait_hours(desk.assumed[Assumption.REPAIR_TIME]),
    )


def _new(order: WorkOrder, stock: StockPosition, desk: Desk) -> TyreOption:
    nothing = Money(Decimal(0), desk.book.currency)
    return TyreOption(
        kind=OptionKind.NEW,
        outlay=desk.book.price_on(OptionKind.NEW, order.tyre.size, desk.day).price,
        hours=desk.assumed[Assumption.NEW_LIFE],
        failure=Decimal(0),
        if_fails=nothing,
        salvage=nothing,
        upkeep=nothing,
        wait_hours=stock.wait_hours(stock.lead_time_hours),
    )


def _others(order: WorkOrder, repair: TyreOption, desk: Desk) -> tuple[TyreOption, ...]:
    """Retreading and sending out, where the price list has them for the size; life and odds as repaired."""
    size = order.tyre.size
    listed = {
        price.kind for price in desk.book.prices if price.item == size and price.effective_from <= desk.day
    }
    kinds = [kind for kind in (OptionKind.RETREAD, OptionKind.SEND_OUT) if kind in listed]
    return tuple(
        replace(repair, kind=kind, outlay=desk.book.price_on(kind, size, desk.day).price) for kind in kinds
    )


def _uncertain(
    comparison: Comparison, life: LifeEstimate, bounds: LifeBounds, assumed: Assumed
) -> UncertainComparison:
    repair, new = comparison.option(OptionKind.REPAIR), comparison.option(OptionKind.NEW)
    spread = float(assumed[Assumption.COST_SPREAD])
    new_life = weibull_assumed(float(new.hours), float(assumed[Assumption.NEW_SHAPE]))
    terms = comparison.terms
    return UncertainComparison(
        repair=UncertainWay(
            outlay=_outlay(repair.outlay, spread),
            life=life.life,
            bound_hours=bounds.hours,
            wait_hours=float(repair.wait_hours),
        ),
        new=UncertainWay(
            outlay=_outlay(new.outlay, spread),
            life=new_life,
            bound_hours=float("inf"),
            wait_hours=float(new.wait_hours),
        ),
        failure=float(repair.failure),
        if_fails=float(repair.if_fails.amount),
        waiting_cost=_outlay(terms.waiting_cost, spread),
        hours_a_year=float(terms.hours_a_year),
        discount_rate=float(terms.discount_rate),
    )


def _outlay(money: Money, spread: float) -> UncertainOutlay:
    return UncertainOutlay(mean=float(money.amount), spread=spread)


def repair_hours_get(*, order: WorkOrder) -> float:
    """The running hours that a repair of the order is expected to gain, within its bounds [h]."""
    desk = desk_get(site=order.site)
    return _life(order, desk).life.mean_within(_bounds(order, desk).hours)
