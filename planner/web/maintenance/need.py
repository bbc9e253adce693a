"""When the tyre that is being registered is needed, by its machine and the spares behind it."""

from datetime import datetime, time, timedelta

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.size_reading import size_read
from planner.selectors.fleet import machine_list
from planner.selectors.needs import Need, need_get
from planner.selectors.nouns import Machine
from planner.web.here import Here, show, site_page

_MORNING = time(6)


@site_page(Action.WORK_ORDER_RECEIVE)
def need(request: HttpRequest, here: Here) -> HttpResponse:
    """A part of the form; empty until a size can be read."""
    machine = _machine(here, request.GET.get("machine", ""))
    size = _size(request.GET.get("size_as_written", "")) or (machine.tyre_size if machine else "")
    found = need_get(user=here.user, site=here.site, size=size, machine=machine) if size else None
    return show(
        request, here, "maintenance/need.html", need=found, size=size, at=_at(here, found) if found else None
    )


def _at(here: Here, found: Need) -> datetime:
    """That morning; by tomorrow evening where it is wanted already."""
    at = datetime.combine(found.day, _MORNING, tzinfo=here.zone)
    soon = timezone.localtime() + timedelta(days=1)
    return at if at > soon else datetime.combine(soon.date(), time(18), tzinfo=here.zone)


def _machine(here: Here, told: str) -> Machine | None:
    if not told.isdecimal():
        return None
    return machine_list(user=here.user, site=here.site).filter(pk=int(told)).first()


def _size(told: str) -> str:
    try:
        return str(size_read(told).size)
    except InvalidValueError:
        return ""
