"""What a calendar gets from a secret address: no cookie, no sign-in, and no word where it is wrong."""

import hashlib

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotModified
from django.utils import timezone, translation
from django.views.decorators.http import require_safe

from planner.domain.errors import NotFoundError
from planner.domain.feeds import FeedKind
from planner.selectors.calendar_feeds import calendar_feed_of
from planner.selectors.plans import plan_published_get
from planner.web.feeds.calendars import calendar_of
from planner.web.feeds.ready_events import ready_events
from planner.web.feeds.shift_events import shift_events
from planner.web.here import here_get

_EVENTS = {FeedKind.READY: ready_events, FeedKind.SHIFTS: shift_events}


@require_safe
def feed(request: HttpRequest, secret: str) -> HttpResponse:
    """The calendar as its user may see it now."""
    try:
        row = calendar_feed_of(secret=secret)
        here = here_get(row.user, row.site.code)
    except NotFoundError as fault:
        raise Http404 from fault
    plan = plan_published_get(user=here.user, site=here.site)
    with timezone.override(here.zone), translation.override(here.reading.language):
        events = _EVENTS[FeedKind(row.kind)](here, plan) if plan else []
        body = calendar_of(here, FeedKind(row.kind), events)
    tag = f'"{hashlib.sha256(body).hexdigest()}"'
    headers = {"ETag": tag, "Cache-Control": "private, max-age=300", "X-Robots-Tag": "noindex"}
    if request.headers.get("If-None-Match") == tag:
        return HttpResponseNotModified(headers=headers)
    return HttpResponse(body, content_type="text/calendar; charset=utf-8", headers=headers)
