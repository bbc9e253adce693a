"""Repair against new for one tyre, with advice, charts and approval."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.accounts.approvals import approval_need_get
from planner.selectors.accounts.comparisons import RepairRefused, comparison_or_refusal_get
from planner.selectors.work_orders import work_order_get, work_order_list
from planner.services.accounts.approvals import spend_approve
from planner.web.accounts.charts import bars, life_chart, swing_bars
from planner.web.here import Here, show, site_page, tell

ROWS_ON_A_PAGE = 25


@site_page(Action.MONEY_READ)
def open_orders(request: HttpRequest, here: Here) -> HttpResponse:
    """The open orders, each with its way to the comparison."""
    orders = work_order_list(user=here.user, site=here.site, search=request.GET.get("search", ""))
    page = Paginator(orders, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    return show(request, here, "accounts/open.html", "accounts", page=page, orders=page.object_list)


@site_page(Action.MONEY_READ)
def comparison(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Every figure of one comparison, opened."""
    found = comparison_or_refusal_get(user=here.user, site=here.site, number=number)
    if isinstance(found, RepairRefused):
        return show(request, here, "accounts/refused.html", "accounts", found=found)
    costs = bars((cost.option.kind.value, cost.per_hour) for cost in found.costs)
    return show(
        request, here, "accounts/comparison.html", "accounts", found=found, costs=costs,
        need=approval_need_get(user=here.user, order=found.order), swings=swing_bars(found.swings),
        life=life_chart(found.life), figures=found.figures(),
    )  # fmt: skip


@require_POST
@site_page(Action.SPEND_APPROVE)
def approve(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Approve the spend as it stands."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    spend_approve(user=here.user, work_order=order, note=request.POST.get("note", ""))
    tell(request, _("You approved %(order)s.") % {"order": order})
    return redirect("accounts_comparison", here.site.code, number)
