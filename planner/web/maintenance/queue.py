"""The queue: every damaged tyre with its state, when it is needed and when it is promised."""

from dataclasses import dataclass

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.domain.states import WorkOrderState
from planner.selectors.nouns import WorkOrder
from planner.selectors.plan_odds import ReadyOdds, order_odds_map_get
from planner.selectors.plan_promises import ReadyPromise, promise_map_get
from planner.selectors.plans import plan_published_get
from planner.selectors.work_orders import work_order_list
from planner.web.here import Here, show, site_page
from planner.web.maintenance.queue_filter import QueueFilter

ROWS_ON_A_PAGE = 25
_SORTS = {
    "needed": ("needed_by", "-priority", "number"),
    "priority": ("-priority", "needed_by", "number"),
    "received": ("-received_at", "number"),
    "number": ("number",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueRow:
    """An order beside what the published plan promises for it."""

    order: WorkOrder
    promise: ReadyPromise | None
    odds: ReadyOdds | None = None

    @property
    def is_planned(self) -> bool:
        """Whether plans take the order in at all."""
        return self.order.state in {WorkOrderState.TO_REPAIR, WorkOrderState.IN_HAND}


@site_page(Action.SITE_READ)
def queue(request: HttpRequest, here: Here) -> HttpResponse:
    """The queue, filtered, sorted and in pages."""
    form = QueueFilter(request.GET or None)
    wanted = form.wanted()
    orders = _filtered(here, form, wanted)
    page = Paginator(orders, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    plan = plan_published_get(user=here.user, site=here.site)
    promises, odds = promise_map_get(plan=plan), order_odds_map_get(plan=plan)
    rows = [
        QueueRow(order=order, promise=promises.get(order.code), odds=odds.get(order.code))
        for order in page.object_list
    ]
    query = request.GET.copy()
    query.pop("page", None)
    return show(
        request, here, "maintenance/queue.html", "queue", form=form, rows=rows, page=page, published=plan,
        filtered=form.is_used(), query=query.urlencode(),
    )  # fmt: skip


def _filtered(here: Here, form: QueueFilter, wanted: dict[str, str]) -> QuerySet[WorkOrder]:
    orders = work_order_list(
        user=here.user, site=here.site, states=form.states(), search=wanted.get("search", "")
    )
    if wanted.get("zone"):
        orders = orders.filter(damages__zone=wanted["zone"]).distinct()
    if wanted.get("size"):
        orders = orders.filter(tyre__size__icontains=wanted["size"])
    return orders.order_by(*_SORTS.get(wanted.get("sort", ""), _SORTS["needed"]))
