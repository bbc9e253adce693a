"""What a cure should have been: the plan that its log is judged against."""

from planner.domain.errors import InvalidValueError
from planner.domain.work import StageKind
from planner.engineering.cure.case import CureCase
from planner.engineering.cure_log.plan import CurePlan
from planner.models import Damage
from planner.selectors.cure_figures import cure_figures_by_damage
from planner.selectors.cure_inputs import cure_tables_get
from planner.selectors.order_cures import order_cure_list


def cure_plan_get(*, damage: Damage) -> CurePlan:
    """The planned cure of an injury: the chart's minutes, else those of the route's cure stage.

    Raises InvalidValueError where neither the chart nor a route gives minutes.
    """
    figures = cure_figures_by_damage(site=damage.site, damages=[damage]).get(damage.pk)
    timed = figures.timed_min if figures and figures.timed_min else _route_minutes(damage)
    return CurePlan(timed_min=timed, case=_case(damage))


def _case(damage: Damage) -> CureCase | None:
    """The repair as the model sees it; None where a figure of the material is missing."""
    try:
        told = cure_tables_get(site=damage.site).input_for(damage)
    except InvalidValueError:
        return None
    return None if told is None else told.case


def _route_minutes(damage: Damage) -> int:
    cures = [] if damage.work_order is None else order_cure_list(order=damage.work_order)
    stages = next((cure.stages for cure in cures if cure.damage == damage), ())
    energised = [stage.minutes for stage in stages if stage.kind is StageKind.ENERGISED]
    if not energised:
        raise InvalidValueError("neither a cure chart nor a route says how long this cure should take")
    return energised[-1]
