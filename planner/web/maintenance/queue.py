"""The queue: every damaged tyre with its state, when it is needed and when it is promised."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse

from planner.domain.permissions import Action
from planner.domain.states import WorkOrderState
from planner.selectors.nouns import Plan, QueueView, WorkOrder
from planner.selectors.plan_odds import ReadyOdds, order_odds_map_get
from planner.selectors.plan_promises import ReadyPromise, not_entered_map_get, promise_map_get
from planner.selectors.plans import plan_published_get
from planner.selectors.queue_views import queue_view_list
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
    """An order beside what the published plan promises for it, or why no plan can take it in."""

    order: WorkOrder
    promise: ReadyPromise | None
    odds: ReadyOdds | None = None
    not_entered: str = ""

    @property
    def is_planned(self) -> bool:
        """Whether plans take the order in at all."""
        return self.order.state in {WorkOrderState.TO_REPAIR, WorkOrderState.IN_HAND}


@site_page(Action.SITE_READ)
def queue(request: HttpRequest, here: Here) -> HttpResponse:
    """The queue, filtered, sorted and in pages."""
    form = QueueFilter(request.GET or None)
    page = Paginator(orders_wanted(here, form), ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    plan = plan_published_get(user=here.user, site=here.site)
    query = request.GET.copy()
    query.pop("page", None)
    return show(
        request, here, "maintenance/queue.html", "queue", form=form, page=page,
        rows=rows_of(plan, page.object_list), published=plan, filtered=form.is_used(),
        query=query.urlencode(), wanted=form.wanted(),
        views=[view_of(each, form) for each in queue_view_list(user=here.user, site=here.site)],
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptView:
    """A view of the reader's own, and whether it is what is shown."""

    key: int
    name: str
    query: str
    is_shown: bool


def view_of(row: QueueView, form: QueueFilter) -> KeptView:
    """The view as a link."""
    return KeptView(
        key=row.pk, name=row.name, query=urlencode(row.wanted), is_shown=row.wanted == form.wanted()
    )


def rows_of(plan: Plan | None, orders: Iterable[WorkOrder]) -> list[QueueRow]:
    """The orders beside what the plan promises for them."""
    promises, odds = promise_map_get(plan=plan), order_odds_map_get(plan=plan)
    reasons = not_entered_map_get(plan=plan)
    return [
        QueueRow(
            order=order, promise=promises.get(order.code), odds=odds.get(order.code),
            not_entered=reasons.get(order.code, ""),
        )
        for order in orders
    ]  # fmt: skip


def orders_wanted(here: Here, form: QueueFilter) -> QuerySet[WorkOrder]:
    """The orders that the filter asks for, in its order."""
    wanted = form.wanted()
    orders = work_order_list(
        user=here.user, site=here.site, states=form.states(), search=wanted.get("search", "")
    )
    if wanted.get("zone"):
        orders = orders.filter(damages__zone=wanted["zone"]).distinct()
    if wanted.get("size"):
        orders = orders.filter(tyre__size__icontains=wanted["size"])
    return orders.order_by(*_SORTS.get(wanted.get("sort", ""), _SORTS["needed"]))
