"""Attend what is hot, hand it over, take it over; and the alarm of every open page."""

import hashlib

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.permissions import Action
from planner.selectors.attendance import attended_tyre_list
from planner.services.tyre_alarms import tyre_alarms_watch
from planner.services.tyre_watches import watch_hand_over, watch_sign_off, watch_sign_on
from planner.web.here import Here, show, site_page, tell


@site_page(Action.SITE_READ)
def alarm(request: HttpRequest, here: Here) -> HttpResponse:
    """Every hot tyre that nobody attends; no content where the page shows the same already."""
    tyres = attended_tyre_list(user=here.user, site=here.site, now=timezone.now())
    alarms = [each for each in tyres if each.alarm]
    words = "".join(f"{each.hot.work_order} {each.alarm}" for each in alarms)
    seen = hashlib.sha256(words.encode()).hexdigest()[:16] if words else ""
    if request.GET.get("seen", "") == seen:
        return HttpResponse(status=204)
    # The clock of `beat` does this too; the first page that shows an alarm need not wait for it.
    tyre_alarms_watch(site=here.site)
    return show(request, here, "parts/alarm.html", alarms=alarms, seen=seen)


@require_POST
@site_page(Action.WORK_RECORD)
def sign_on(request: HttpRequest, here: Here, damage_id: int) -> HttpResponse:
    """Attend the tyre, or take it over from whoever asked."""
    code = request.POST.get("technician", "")
    watch = watch_sign_on(user=here.user, site=here.site, damage_id=damage_id, technician=code)
    tell(request, _("%(name)s attends it now.") % {"name": watch.technician})
    return redirect("floor", here.site.code)


@require_POST
@site_page(Action.WORK_RECORD)
def sign_off(request: HttpRequest, here: Here, damage_id: int) -> HttpResponse:
    """Leave the tyre."""
    watch_sign_off(user=here.user, site=here.site, damage_id=damage_id)
    tell(request, _("Signed off. Until somebody signs on, every open page shows the alarm."))
    return redirect("floor", here.site.code)


@require_POST
@site_page(Action.WORK_RECORD)
def hand_over(request: HttpRequest, here: Here, damage_id: int) -> HttpResponse:
    """Ask somebody to take the tyre over."""
    watch_hand_over(
        user=here.user, site=here.site, damage_id=damage_id, to=request.POST.get("technician", "")
    )
    tell(request, _("Stay with it until they have accepted by their own name."))
    return redirect("floor", here.site.code)
