"""The month: repairs, spend, avoided purchase, failures, variance and cost per hour."""

from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.selectors.accounts.books import month_of, site_day
from planner.selectors.accounts.months import account_month_get, month_totals_get, unbooked_orders
from planner.selectors.telling import in_words
from planner.services.accounts.costs import actuals_book
from planner.services.accounts.periods import period_close
from planner.web.accounts.charts import bars
from planner.web.here import Here, show, site_page, tell


@site_page(Action.MONEY_READ)
def month(request: HttpRequest, here: Here, year: int = 0, number: int = 0) -> HttpResponse:
    """One month; without one, the latest that has repairs."""
    months = month_totals_get(user=here.user, site=here.site)
    this_month = month_of(site_day(here.site))
    wanted = _month(year, number) if year else (months[0].month if months else this_month)
    found = account_month_get(user=here.user, site=here.site, month=wanted, months=months)
    causes = bars((cause, amount) for cause, amount in found.causes)
    return show(
        request, here, "accounts/month.html", "accounts", found=found, totals=found.totals,
        months=[each for each in months if each.month != wanted],
        chart=causes, unbooked=unbooked_orders(user=here.user, site=here.site).count(),
        may_close=wanted < this_month and not found.closed,
    )  # fmt: skip


@require_POST
@site_page(Action.MONEY_CHANGE)
def book(request: HttpRequest, here: Here) -> HttpResponse:
    """Book every repair that ended."""
    booked = actuals_book(user=here.user, site=here.site)
    tell(request, _("%(count)s repairs are booked.") % {"count": booked.count})
    for fault in booked.faults:
        messages.warning(request, in_words(fault))
    return redirect("accounts", here.site.code)


@require_POST
@site_page(Action.MONEY_CHANGE)
def close(request: HttpRequest, here: Here, year: int, number: int) -> HttpResponse:
    """Close the month for good."""
    period = period_close(
        user=here.user, site=here.site, month=_month(year, number), why=request.POST.get("why", "")
    )
    tell(request, _("%(month)s is closed: nothing in it can change any more.") % {"month": period})
    return redirect("accounts_month", here.site.code, year, number)


def _month(year: int, number: int) -> date:
    try:
        return date(year, number, 1)
    except ValueError as fault:
        raise NotFoundError(_("There is no such month.")) from fault
