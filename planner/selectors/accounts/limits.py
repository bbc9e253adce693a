"""Every limit that a tyre is beyond: damage, age, tread and number of repairs."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from django.db.models import Q

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.limits import Casing, RepairLimits, beyond_limits
from planner.domain.errors import NotFoundError
from planner.domain.injury import Zone
from planner.domain.plan import Reason
from planner.domain.sentences import _, sentence_of
from planner.domain.size_reading import size_read
from planner.domain.states import WorkOrderState
from planner.models import DamageLimit, Tyre, WorkOrder
from planner.selectors.accounts.lives import age_years
from planner.selectors.day_problem.fitting import limit_of
from planner.selectors.routes import route_get, size_class_get


def breaches_get(*, order: WorkOrder, assumed: Assumed, day: date) -> tuple[Reason, ...]:
    """The breaches of one order; empty where the tyre is within every limit."""
    tyre = order.tyre
    casing = Casing(
        age_years=age_years(tyre, day) or Decimal(0),
        repairs=_repairs(tyre),
        tread_mm=assumed[Assumption.LEAST_TREAD] if tyre.tread_depth_mm is None else tyre.tread_depth_mm,
        damage=tuple(_over_limit(order)),
    )
    limits = RepairLimits(
        casing_age_years=assumed[Assumption.GREATEST_AGE],
        repairs=int(assumed[Assumption.MOST_REPAIRS]),
        tread_mm=assumed[Assumption.LEAST_TREAD],
    )
    return beyond_limits(casing, limits)


def _repairs(tyre: Tyre) -> int:
    """Repairs before this one, on file here and before."""
    return tyre.repairs_before + tyre.work_orders.filter(state=WorkOrderState.REPAIRED).count()


def _over_limit(order: WorkOrder) -> Iterator[Reason]:
    size_class = size_class_get(site=order.site, size=size_read(order.tyre.size).size)
    for damage in order.damages.all():
        yield from _no_route(order, damage.zone)
        limits = DamageLimit.objects.filter(site=order.site, zone=damage.zone)
        for row in limits.filter(Q(size_class=size_class) | Q(size_class__isnull=True)):
            for fault in limit_of(row).faults(damage.injury):
                yield Reason(
                    code="over-the-damage-limit", message=_("{zone}: {fault}", zone=damage.zone, fault=fault)
                )
            if row.most_repairs is not None and _repairs(order.tyre) + 1 > row.most_repairs:
                message = _(
                    "{zone}: the limit is {most_repairs} repairs ({source})",
                    zone=damage.zone,
                    most_repairs=row.most_repairs,
                    source=row.source,
                )
                yield Reason(code="too-many-repairs", message=message)


def _no_route(order: WorkOrder, zone: str) -> Iterator[Reason]:
    """An injury where the site repairs none: it has no way to do it, so it gets no advice to."""
    if order.route_id is None:
        try:
            route_get(site=order.site, size=size_read(order.tyre.size).size, zone=Zone(zone))
        except NotFoundError as fault:
            yield Reason(code="no-route", message=sentence_of(fault))
