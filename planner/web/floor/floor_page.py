"""The floor page: own work of today, big enough for gloves."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action
from planner.selectors.attendance import attended_tyre_list
from planner.selectors.plans import plan_published_get
from planner.selectors.resources import technician_list
from planner.web.cautions import DEFERENCE
from planner.web.entrance.own_day import own_sheet
from planner.web.floor.cards import cards_of
from planner.web.here import Here, show, site_page


@site_page(Action.WORK_RECORD)
def floor(request: HttpRequest, here: Here) -> HttpResponse:
    """What the reader does today, and everything that is hot."""
    plan = plan_published_get(user=here.user, site=here.site)
    now = timezone.now()
    own = own_sheet(here, plan, now) if plan else None
    cards = cards_of(here, plan, own, now) if plan and own else []
    people = list(technician_list(user=here.user, site=here.site))
    template = "floor/body.html" if getattr(request, "htmx", False) else "floor/floor.html"
    return show(
        request, here, template, "floor", plan=plan, own=own, cards=cards, now=now, deference=DEFERENCE,
        attended=attended_tyre_list(user=here.user, site=here.site, now=now), people=people,
        me=next((each for each in people if each.user_id == here.user.pk), None),
    )  # fmt: skip
