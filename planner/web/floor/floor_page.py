"""The floor page: own work of today, big enough for gloves."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action
from planner.selectors.plans import plan_published_get
from planner.web.entrance.own_day import own_sheet
from planner.web.here import Here, show, site_page


@site_page(Action.WORK_RECORD)
def floor(request: HttpRequest, here: Here) -> HttpResponse:
    """What the reader does today."""
    plan = plan_published_get(user=here.user, site=here.site)
    own = own_sheet(here, plan, timezone.now()) if plan else None
    return show(request, here, "floor/floor.html", "floor", plan=plan, own=own)
