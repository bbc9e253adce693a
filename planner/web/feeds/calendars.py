"""Calendars by RFC 5545: what every event and every calendar of ours carries."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.utils.translation import gettext as _
from icalendar import Calendar, Event, Timezone

from planner.domain.feeds import FeedKind
from planner.selectors.nouns import Plan
from planner.web.here import Here

_REFRESH = timedelta(minutes=30)
_OURS = uuid.UUID("5c6b1a0e-6d0c-5b6e-8f57-7d2f5f1c9a31")


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedEvent:
    """An event: `about` names what it is about, the same for good; without an end it is a point in time."""

    about: str
    title: str
    words: str
    starts_at: datetime
    ends_at: datetime | None = None
    is_busy: bool = False
    plan: Plan


def calendar_of(here: Here, kind: FeedKind, events: Iterable[FeedEvent]) -> bytes:
    """The calendar as bytes; without an event it holds the site's time zone, for it may not be empty."""
    calendar = Calendar()
    calendar.add("prodid", "-//Tyrewright//Bay plan//EN")
    calendar.add("version", "2.0")
    titles = {FeedKind.READY: _("tyres ready"), FeedKind.SHIFTS: _("shift plan")}
    calendar.add("name", f"{here.site.name}: {titles[kind]}")
    calendar.add("refresh-interval", _REFRESH, parameters={"VALUE": "DURATION"})
    for each in events:
        calendar.add_component(_event(here, each))
    if not calendar.subcomponents:
        calendar.add_component(Timezone.from_tzid(here.site.time_zone))
    written: bytes = calendar.to_ical()
    return written


def _event(here: Here, each: FeedEvent) -> Event:
    """Times in UTC: an instant needs no zone, and no hour is told twice where the clock is put back."""
    stamp = (each.plan.published_at or each.plan.made_at).astimezone(UTC)
    event = Event()
    event.add("uid", str(uuid.uuid5(_OURS, f"{here.site.code}/{each.about}")))
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    # Each publication may move an event, and a plan's number only ever grows.
    event.add("sequence", each.plan.number or 0)
    event.add("summary", each.title)
    event.add("description", each.words)
    event.add("dtstart", each.starts_at.astimezone(UTC))
    if each.ends_at is not None:
        event.add("dtend", each.ends_at.astimezone(UTC))
    event.add("transp", "OPAQUE" if each.is_busy else "TRANSPARENT")
    return event
