"""What a cure should have been: the plan that its log is judged against, and whose limits it keeps to."""

from dataclasses import dataclass

from planner.domain.cure_limits import CureLimit, CureLimits
from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.work import StageKind
from planner.engineering.cure.case import CureCase
from planner.engineering.cure_log.plan import CurePlan
from planner.models import Damage, HeaterSet
from planner.selectors.cure_figures import cure_figures_by_damage
from planner.selectors.cure_inputs import CureTables, cure_tables_get
from planner.selectors.order_cures import order_cure_list


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCure:
    """A cure's plan with the limits that it was made from, each with its source."""

    plan: CurePlan
    limits: CureLimits


def cure_plan_get(
    *, damage: Damage, heater_set: HeaterSet | None = None, by_hand: bool = False
) -> PlannedCure:
    """The planned cure of an injury on a set: the chart's minutes, else those of the route's cure stage.

    `by_hand` allows the longer silence between readings that people take.

    Raises InvalidValueError where neither the chart nor a route gives minutes.
    """
    tables = cure_tables_get(site=damage.site)
    set_id = heater_set.pk if heater_set else None
    sets = {damage.pk: set_id} if set_id else {}
    figures = cure_figures_by_damage(site=damage.site, damages=[damage], sets=sets).get(damage.pk)
    timed = figures.timed_min if figures and figures.timed_min else _route_minutes(damage)
    limits = tables.limits_of(damage, set_id)
    plan = CurePlan(
        timed_min=timed,
        gap_min=limits.value(CureLimit.HAND_GAP if by_hand else CureLimit.LOGGER_GAP),
        release_place=limits.place,
        case=_case(tables, damage, set_id),
        **{limit.value: limits.value(limit) for limit in CureLimit if limit in _OF_PLAN},
    )
    return PlannedCure(plan=plan, limits=limits)


_OF_PLAN = frozenset(CurePlan.__slots__) - {CureLimit.LOGGER_GAP}


def _case(tables: CureTables, damage: Damage, heater_set_id: int | None) -> CureCase | None:
    """The repair as the model sees it; None where a figure of the material is missing."""
    try:
        told = tables.input_for(damage, heater_set_id)
    except InvalidValueError:
        return None
    return None if told is None else told.case


def _route_minutes(damage: Damage) -> int:
    cures = [] if damage.work_order is None else order_cure_list(order=damage.work_order)
    stages = next((cure.stages for cure in cures if cure.damage == damage), ())
    energised = [stage.minutes for stage in stages if stage.kind is StageKind.ENERGISED]
    if not energised:
        raise InvalidValueError(_("neither a cure chart nor a route says how long this cure should take"))
    return energised[-1]
