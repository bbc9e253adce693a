"""Repair against new for one tyre, with advice, charts and approval."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.domain.states import NOT_BEGUN_WORK
from planner.selectors.accounts.approvals import approval_need_get, booked_needs_get
from planner.selectors.accounts.comparisons import RepairRefused, comparison_or_refusal_get
from planner.selectors.work_orders import work_order_get, work_order_list
from planner.services.accounts.approvals import spend_approve
from planner.services.accounts.costs import estimate_book
from planner.web.accounts.charts import bars, swing_bars
from planner.web.accounts.life_chart import life_chart
from planner.web.here import Here, show, site_page, tell

ROWS_ON_A_PAGE = 25


@site_page(Action.MONEY_READ)
def open_orders(request: HttpRequest, here: Here) -> HttpResponse:
    """The open orders with their booked estimates, each with its way to the comparison."""
    orders = work_order_list(user=here.user, site=here.site, search=request.GET.get("search", ""))
    page = Paginator(orders, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    needs = booked_needs_get(user=here.user, site=here.site, orders=[row.pk for row in page.object_list])
    rows = [(order, needs.get(order.pk)) for order in page.object_list]
    return show(request, here, "accounts/open.html", "accounts", page=page, rows=rows)


@site_page(Action.MONEY_READ)
def comparison(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Every figure of one comparison, opened."""
    found = comparison_or_refusal_get(user=here.user, site=here.site, number=number)
    if isinstance(found, RepairRefused):
        return show(request, here, "accounts/refused.html", "accounts", found=found)
    need = approval_need_get(user=here.user, order=found.order)
    return show(
        request, here, "accounts/comparison.html", "accounts", found=found, need=need,
        costs=bars((cost.option.kind.value, cost.per_hour) for cost in found.costs),
        swings=swing_bars(found.swings, found.comparison.saving_a_year()),
        chart=life_chart(found.life), figures=found.figures(),
        may_book=here.allows(Action.SPEND_APPROVE) and found.order.state in NOT_BEGUN_WORK,
        differs=need.amount != found.estimate.total,
    )  # fmt: skip


@require_POST
@site_page(Action.SPEND_APPROVE)
def approve(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Approve the spend as it stands."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    spend_approve(user=here.user, work_order=order, note=request.POST.get("note", ""))
    tell(request, _("You approved %(order)s.") % {"order": order})
    return redirect("accounts_comparison", here.site.code, number)


@require_POST
@site_page(Action.SPEND_APPROVE)
def book_again(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Book today's estimate in place of the one that is booked."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    estimate_book(user=here.user, work_order=order, why=request.POST.get("why", ""))
    tell(request, _("Today's estimate of %(order)s is booked.") % {"order": order})
    return redirect("accounts_comparison", here.site.code, number)
