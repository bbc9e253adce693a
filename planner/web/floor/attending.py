"""Attend what is hot, hand it over, take it over; and the alarm of every open page."""

import hashlib
from datetime import datetime

from django.http import HttpRequest, HttpResponse, QueryDict
from django.utils import timezone
from django.utils.translation import gettext as _

from planner.domain.errors import NotFoundError, UserError
from planner.domain.permissions import Action
from planner.selectors.attendance import attended_tyre_list
from planner.selectors.telling import in_words
from planner.services.tyre_alarms import tyre_alarms_watch
from planner.services.tyre_watches import watch_hand_over, watch_sign_off, watch_sign_on
from planner.web.here import Here, show, site_page


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


def attend(here: Here, told: QueryDict, at: datetime) -> str:
    """Attend the tyre, or take it over from whoever asked."""
    watch = watch_sign_on(
        user=here.user,
        site=here.site,
        damage_id=damage_told(told),
        technician=told.get("technician", ""),
        now=at,
    )
    return _("%(name)s attends it now.") % {"name": watch.technician}


def attend_begun(here: Here, told: QueryDict, at: datetime) -> str:
    """The same for who began the heat: it is hot now, so what keeps them from attending it is only said."""
    try:
        return attend(here, told, at)
    except UserError as fault:
        return _("It is begun, but nobody attends it: %(fault)s") % {"fault": in_words(fault)}


def leave(here: Here, told: QueryDict, at: datetime) -> str:
    """Leave the tyre."""
    watch_sign_off(user=here.user, site=here.site, damage_id=damage_told(told), now=at)
    return _("Signed off. Until somebody signs on, every open page shows the alarm.")


def hand_over(here: Here, told: QueryDict) -> str:
    """Ask somebody to take the tyre over."""
    watch_hand_over(
        user=here.user, site=here.site, damage_id=damage_told(told), to=told.get("technician", "")
    )
    return _("Stay with it until they have accepted by their own name.")


def damage_told(told: QueryDict) -> int:
    """The key of the injury that a tap names."""
    try:
        return int(told.get("damage", ""))
    except ValueError as fault:
        raise NotFoundError(_("no tyre was named: load the page again")) from fault
