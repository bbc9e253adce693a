"""The reader's own feeds: made, shown once, stopped."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import NotFoundError
from planner.domain.feeds import FeedKind
from planner.domain.permissions import Action
from planner.selectors.calendar_feeds import calendar_feed_list
from planner.services.calendar_feeds import calendar_feed_make, calendar_feed_stop
from planner.web.here import Here, show, site_page, tell


@site_page(Action.SITE_READ)
def calendar(request: HttpRequest, here: Here) -> HttpResponse:
    """Both kinds, and whether they work."""
    return _page(request, here)


@require_POST
@site_page(Action.SITE_READ)
def make(request: HttpRequest, here: Here, kind: str) -> HttpResponse:
    """Make an address; this answer is the only one that shows it."""
    _row, secret = calendar_feed_make(user=here.user, site=here.site, kind=_kind(kind))
    address = request.build_absolute_uri(reverse("calendar_feed", args=[secret]))
    answer = _page(request, here, made=kind, address=address)
    answer["Cache-Control"] = "no-store"
    return answer


@require_POST
@site_page(Action.SITE_READ)
def stop(request: HttpRequest, here: Here, kind: str) -> HttpResponse:
    """Stop it at once."""
    calendar_feed_stop(user=here.user, site=here.site, kind=_kind(kind))
    tell(request, _("That address answers no calendar any more."))
    return redirect("calendar", here.site.code)


def _page(request: HttpRequest, here: Here, made: str = "", address: str = "") -> HttpResponse:
    known = calendar_feed_list(user=here.user, site=here.site)
    words = {
        FeedKind.READY: _("When each tyre is promised ready"),
        FeedKind.SHIFTS: _("The shift plan: who does what from when to when"),
    }
    kinds = [
        {"name": kind, "words": words[kind], "feed": known.get(kind), "is_made": kind == made}
        for kind in FeedKind
    ]
    return show(request, here, "feeds/calendar.html", "notices", kinds=kinds, address=address)


def _kind(kind: str) -> FeedKind:
    if kind not in set(FeedKind):
        raise NotFoundError(_("There is no such calendar."))
    return FeedKind(kind)
