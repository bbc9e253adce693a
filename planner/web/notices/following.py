"""Follow the tyre of an order, or no longer."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.work_orders import work_order_get
from planner.services.tyre_follows import tyre_follow, tyre_unfollow
from planner.web.here import Here, site_page, tell


@require_POST
@site_page(Action.SITE_READ)
def follow(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Hear of it."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    tyre_follow(user=here.user, tyre=order.tyre)
    words = _("You are told when the promised time of %(serial)s changes.")
    tell(request, words % {"serial": order.tyre.serial})
    return redirect("work_order", here.site.code, number)


@require_POST
@site_page(Action.SITE_READ)
def unfollow(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Hear of it no longer."""
    order = work_order_get(user=here.user, site=here.site, number=number)
    tyre_unfollow(user=here.user, tyre=order.tyre)
    return redirect("work_order", here.site.code, number)
