"""Work orders: list, receive, read, date and decide."""

from collections.abc import Callable, Mapping

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from api.work_orders.shapes import (
    WorkOrderDate,
    WorkOrderMove,
    WorkOrderReceive,
    WorkOrderSearch,
    WorkOrderShape,
)
from planner.domain.permissions import Action
from planner.domain.states import OPEN_WORK
from planner.selectors.fleet import machine_list, tyre_list
from planner.selectors.nouns import WorkOrder
from planner.selectors.work_orders import work_order_get, work_order_list
from planner.services import work_orders as services

_MOVES: Mapping[str, Callable[..., None]] = {
    "decide_to_repair": services.work_order_decide_to_repair,
    "reject": services.work_order_reject,
    "hold": services.work_order_hold,
    "release": services.work_order_release,
    "call_off": services.work_order_call_off,
}


class WorkOrders(SiteView):
    """The work orders of a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.WORK_ORDER_RECEIVE}
    created = frozenset({"POST"})

    @extend_schema(
        operation_id="work_order_list", parameters=[WorkOrderSearch], responses=WorkOrderShape(many=True)
    )
    def get(self, request: Request, site: str) -> Response:
        """The orders in these states, most urgent first."""
        asked = self.asked(WorkOrderSearch)
        states = asked.pop("state", None) or OPEN_WORK
        return self.page(
            work_order_list(user=self.user, site=self.site, states=states, **asked), WorkOrderShape
        )

    @extend_schema(
        operation_id="work_order_receive", request=WorkOrderReceive, responses={201: WorkOrderShape}
    )
    def post(self, request: Request, site: str) -> Response:
        """Receive a damaged tyre for repair; its damage that has no order yet joins this one."""
        return self.once(self._received)

    def _received(self) -> Response:
        values = self.sent(WorkOrderReceive)
        values["tyre"] = found(tyre_list(user=self.user, site=self.site), pk=values["tyre"])
        if "machine" in values:
            machines = machine_list(user=self.user, site=self.site)
            values["machine"] = found(machines, pk=values["machine"])
        order = services.work_order_receive(user=self.user, site=self.site, **values)
        return self.one(order, WorkOrderShape, status=201)


class OneWorkOrder(SiteView):
    """One work order by its number."""

    actions = {"GET": Action.SITE_READ, "PATCH": Action.WORK_ORDER_DATE}

    @extend_schema(operation_id="work_order_get", responses=WorkOrderShape)
    def get(self, request: Request, site: str, number: int) -> Response:
        """One order."""
        return self.one(order_of(self, number), WorkOrderShape)

    @extend_schema(operation_id="work_order_date", request=WorkOrderDate, responses=WorkOrderShape)
    def patch(self, request: Request, site: str, number: int) -> Response:
        """Change when the tyre is needed, and its priority."""
        order = order_of(self, number)
        self.refuse_unmatched(order, WorkOrderShape)
        services.work_order_date(user=self.user, work_order=order, **self.sent(WorkOrderDate))
        return self.one(order, WorkOrderShape)


class WorkOrderMoves(SiteView):
    """Decisions on one work order."""

    actions = {"POST": Action.WORK_ORDER_DECIDE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="work_order_move", request=WorkOrderMove, responses=WorkOrderShape)
    def post(self, request: Request, site: str, number: int) -> Response:
        """Decide to repair, reject, hold, release or call off."""
        order = order_of(self, number)
        self.refuse_unmatched(order, WorkOrderShape)
        values = self.sent(WorkOrderMove)
        _MOVES[values["move"]](user=self.user, work_order=order, why=values["why"])
        return self.one(order, WorkOrderShape)


def order_of(view: SiteView, number: int) -> WorkOrder:
    """The order with this number that the caller may see."""
    return work_order_get(user=view.user, site=view.site, number=number)
