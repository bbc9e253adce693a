"""Find a tyre or an order from any page: by serial, order, size or machine."""

from django.db.models import Case, QuerySet, When
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from planner.domain.permissions import Action
from planner.domain.states import TyreState, WorkOrderState
from planner.selectors.fleet import tyre_list
from planner.selectors.nouns import Tyre, WorkOrder
from planner.selectors.work_orders import work_order_list
from planner.web.here import Here, show, site_page

_ROWS = 30


@site_page(Action.SITE_READ)
def find(request: HttpRequest, here: Here) -> HttpResponse:
    """Straight to the order where just one is meant; else what there is, open work first."""
    words = request.GET.get("q", "").strip()[:80]
    found = work_order_list(user=here.user, site=here.site, states=list(WorkOrderState), search=words)
    orders = list(found.order_by("closed_at", "-number")[: _ROWS + 1]) if words else []
    meant = _meant(orders, words)
    if meant is not None:
        return redirect("work_order", here.site.code, meant.number)
    orders.sort(key=lambda order: (order.closed_at is not None, -order.number))
    tyres = list(_tyres(here, words)[:_ROWS]) if words else []
    return show(
        request, here, "maintenance/find.html", "", words=words, orders=orders[:_ROWS],
        tyres=tyres, more=len(orders) > _ROWS,
    )  # fmt: skip


def _tyres(here: Here, words: str) -> QuerySet[Tyre]:
    """Those in service first."""
    gone = Case(When(state=TyreState.OUT_OF_SERVICE, then=1), default=0)
    return tyre_list(user=here.user, site=here.site, search=words).order_by(gone, "serial")


def _meant(orders: list[WorkOrder], words: str) -> WorkOrder | None:
    """The one order found, the one with this very code, or the open one of this very serial."""
    if len(orders) == 1:
        return orders[0]
    said = words.upper()
    exact = [order for order in orders if order.code == said]
    exact = exact or [order for order in orders if order.tyre.serial.upper() == said and not order.closed_at]
    return exact[0] if len(exact) == 1 else None
