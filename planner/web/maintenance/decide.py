"""Deciding on a work order, and changing when it is needed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.selectors.work_orders import work_order_get
from planner.services import work_orders
from planner.web.here import Here, site_page, tell


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A move of an order's state that a person decides."""

    move: str
    words: str | Promise
    do: Callable[..., None]
    ends: bool = False


DECISIONS: dict[str, Decision] = {
    decision.move: decision
    for decision in (
        Decision(
            move="decide_to_repair",
            words=gettext_lazy("Repair it"),
            do=work_orders.work_order_decide_to_repair,
        ),
        Decision(move="release", words=gettext_lazy("Plan it again"), do=work_orders.work_order_release),
        Decision(move="hold", words=gettext_lazy("Hold"), do=work_orders.work_order_hold),
        Decision(
            move="reject", words=gettext_lazy("Reject the tyre"), do=work_orders.work_order_reject, ends=True
        ),
        Decision(
            move="call_off", words=gettext_lazy("Call off"), do=work_orders.work_order_call_off, ends=True
        ),
    )
}


class DateForm(forms.Form):
    """When the tyre is needed, how much each late minute weighs, and why that changes."""

    needed_by = forms.DateTimeField()
    priority = forms.IntegerField(min_value=1, max_value=100)
    why = forms.CharField(max_length=300)
    version = forms.IntegerField()


@require_POST
@site_page(Action.WORK_ORDER_DECIDE)
def decide(request: HttpRequest, here: Here, number: int, move: str) -> HttpResponse:
    """Make one move, with its reason."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    if move not in DECISIONS:
        raise NotFoundError(_("There is no such decision."))
    DECISIONS[move].do(user=here.user, work_order=order, why=request.POST.get("why", ""))
    tell(request, _("%(order)s is now %(state)s.") % {"order": order, "state": order.get_state_display()})
    return redirect("work_order", here.site.code, number)


@require_POST
@site_page(Action.WORK_ORDER_DATE)
def set_date(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Change when it is needed; two people at once: the second is told."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    form = DateForm(request.POST)
    if not form.is_valid():
        raise InvalidValueError(_("Give the day and time, a weight from 1 to 100, and why it changes."))
    told: dict[str, Any] = form.cleaned_data
    work_orders.work_order_date(
        user=here.user, work_order=order, needed_by=told["needed_by"], priority=told["priority"],
        why=told["why"], expected_version=told["version"],
    )  # fmt: skip
    tell(
        request,
        _("%(order)s is needed by another time now. Build a new plan to see what it does.")
        % {"order": order},
    )
    return redirect("work_order", here.site.code, number)
