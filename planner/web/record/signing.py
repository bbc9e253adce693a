"""Inspecting a finished repair and signing its record: a person's acts, each with their name."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.selectors.work_orders import work_order_get
from planner.services.inspections import inspection_record
from planner.services.repair_records import record_correct, record_sign
from planner.web.here import Here, site_page, tell


@require_POST
@site_page(Action.WORK_ORDER_DECIDE)
def inspect(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Record what was found and whether the repair is released or rejected."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    outcome = request.POST.get("outcome", "")
    if outcome not in ("released", "rejected"):
        raise InvalidValueError(_("Say whether the repair is released or rejected."))
    inspection_record(
        user=here.user, work_order=order, released=outcome == "released", found=request.POST.get("found", "")
    )
    tell(request, _("Your inspection is on record."))
    return redirect("repair_record", here.site.code, number)


@require_POST
@site_page(Action.WORK_ORDER_DECIDE)
def sign(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Sign the first version, or with a reason the next."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    if "reason" in request.POST:
        version = record_correct(user=here.user, work_order=order, reason=request.POST["reason"])
    else:
        version = record_sign(user=here.user, work_order=order)
    tell(request, _("Version %(number)s is signed. It never changes.") % {"number": version.number})
    return redirect("repair_record", here.site.code, number)
