"""Register a damaged tyre."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from planner.domain.errors import UserError
from planner.domain.permissions import Action
from planner.selectors.nouns import WorkOrder
from planner.selectors.telling import in_words
from planner.services.damage_registration import damage_register
from planner.web.here import Here, show, site_page, tell
from planner.web.maintenance.register_form import RegisterForm


@site_page(Action.WORK_ORDER_RECEIVE)
def register(request: HttpRequest, here: Here) -> HttpResponse:
    """The form; what is refused comes back with every word that was typed."""
    form = RegisterForm(request.POST or None, request.FILES or None, here=here)
    order = _registered(here, form) if request.method == "POST" and form.is_valid() else None
    if order is None:
        return show(request, here, "maintenance/register.html", "queue", form=form)
    tell(request, _("%(order)s is in the queue: %(tyre)s.") % {"order": order, "tyre": order.tyre})
    if "another" in request.POST:
        return redirect("damage_register", here.site.code)
    return redirect("work_order", here.site.code, order.number)


def _registered(here: Here, form: RegisterForm) -> WorkOrder | None:
    try:
        return damage_register(user=here.user, site=here.site, report=form.report())
    except UserError as error:
        form.add_error(None, in_words(error))
        return None
