"""Reading work orders: the queue and one order."""

from collections.abc import Collection

from django.db.models import Q, QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import OPEN_WORK
from planner.models import Site, Tyre, User, WorkOrder
from planner.selectors.access import require_on_site


def work_order_list(
    *, user: User, site: Site, states: Collection[str] = OPEN_WORK, search: str = ""
) -> QuerySet[WorkOrder]:
    """Work orders in these states, most urgent first; `search` looks in serial, size, machine and number.

    Tyre, machine, route and damage come along: a page over the rows makes no further query.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    orders = WorkOrder.objects.filter(site=site, state__in=list(states))
    orders = orders.select_related("site", "tyre", "machine", "route").prefetch_related("damages")
    for word in search.split():
        found = Q(tyre__serial__icontains=word) | Q(tyre__size__icontains=word)
        found |= Q(machine__code__icontains=word) | Q(machine__name__icontains=word)
        digits = word.upper().removeprefix("WO-")
        if digits.isdecimal() and len(digits) < 10:
            found |= Q(number=int(digits))
        orders = orders.filter(found)
    return orders.order_by("needed_by", "-priority", "number")


def tyre_by_order_get(*, user: User, site: Site, numbers: Collection[int]) -> dict[int, Tyre]:
    """The tyres of these work orders by the orders' numbers, whatever their state: two queries."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    orders = WorkOrder.objects.filter(site=site, number__in=numbers).select_related("tyre")
    return {order.number: order.tyre for order in orders.only("number", "tyre")}


def work_order_get(*, user: User, site: Site, number: int) -> WorkOrder:
    """One work order with its tyre, machine, route and damage; NotFoundError where there is none."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    orders = WorkOrder.objects.select_related("site", "tyre", "machine", "route").prefetch_related("damages")
    order = orders.filter(site=site, number=number).first()
    if order is None:
        raise NotFoundError(_("there is no work order {number} on {site}", number=number, site=site))
    return order
