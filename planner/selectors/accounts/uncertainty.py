"""Repair against new as draws of chance: lives, costs and odds, spread as the site assumes."""

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.comparison import Comparison
from planner.costing.options import OptionKind
from planner.domain.money import Money
from planner.engineering.comparison_odds import UncertainComparison, UncertainOutlay, UncertainWay
from planner.engineering.life_bound import LifeBounds
from planner.engineering.life_estimate import LifeEstimate
from planner.engineering.life_weibull import weibull_assumed


def uncertain_of(
    comparison: Comparison, life: LifeEstimate, bounds: LifeBounds, assumed: Assumed
) -> UncertainComparison:
    """The same two ways with what is not known of them."""
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
