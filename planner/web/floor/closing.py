"""Closing the bay: a checklist that can't be finished while anything is hot or under pressure."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from planner.domain.permissions import Action
from planner.selectors.floor_work import hot_tyre_list
from planner.services.floor_reports import CLOSING_STEPS, bay_close
from planner.web.cautions import DEFERENCE
from planner.web.here import Here, show, site_page, tell


@site_page(Action.WORK_RECORD)
def closing(request: HttpRequest, here: Here) -> HttpResponse:
    """The checklist; by POST, the bay is closed."""
    if request.method == "POST":
        bay_close(user=here.user, site=here.site, confirmed=set(request.POST.getlist("seen")))
        tell(request, _("The bay is closed. Good night."))
        return redirect("floor", here.site.code)
    hot = hot_tyre_list(user=here.user, site=here.site)
    steps = list(zip(CLOSING_STEPS, _words(), strict=True))
    return show(request, here, "floor/closing.html", "floor", hot=hot, steps=steps, deference=DEFERENCE)


def _words() -> list[str]:
    return [
        _("Every heater set is switched off, seen at each controller."),
        _("Every bag is empty, its gauge at zero; only then were frame pins taken out."),
        _("Hot pads lie where nobody touches them and nothing can catch fire; wet cement is away from them."),
        _("The supply is isolated, locked and tagged by the site's own rule."),
        _("Nobody is left in the bay."),
    ]
