"""The bay: heater sets with what keeps them out, positions, people, and what is closed or isolated soon."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TypedDict

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.permissions import Action
from planner.selectors.nouns import HeaterSet, Site, User
from planner.selectors.resources import (
    closure_list,
    heater_set_faults,
    heater_set_list,
    isolation_list,
    position_list,
    shift_list,
    technician_list,
)
from planner.web.here import Here, show, site_page

_DAYS_AHEAD = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRow:
    """A heater set and why it may not be used today."""

    heater_set: HeaterSet
    faults: tuple[str, ...]


class _Week(TypedDict):
    user: User
    site: Site
    start: datetime
    end: datetime


@site_page(Action.SITE_READ)
def resources(request: HttpRequest, here: Here) -> HttpResponse:
    """Everything that a plan needs, as it is on file."""
    now = timezone.now()
    week = _Week(user=here.user, site=here.site, start=now, end=now + timedelta(days=_DAYS_AHEAD))
    return show(
        request, here, "maintenance/resources.html", "resources",
        sets=list(set_rows(here, now)), today=timezone.localdate(now),
        positions=position_list(user=here.user, site=here.site),
        technicians=technician_list(user=here.user, site=here.site),
        shifts=shift_list(**week).filter(starts_at__lt=now + timedelta(days=1)),
        closures=closure_list(**week), isolations=isolation_list(**week),
    )  # fmt: skip


def set_rows(here: Here, now: datetime) -> Iterator[SetRow]:
    """Each heater set with its faults of today."""
    today = timezone.localdate(now)
    for heater_set in heater_set_list(user=here.user, site=here.site):
        yield SetRow(heater_set=heater_set, faults=heater_set_faults(heater_set=heater_set, day=today))
