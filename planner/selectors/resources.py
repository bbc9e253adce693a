"""Reading what the bay has: people, places, sets and when they are not there."""

from datetime import date, datetime

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.heater_parts import PartKind, SetPart, set_faults
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import PartState
from planner.models import (
    Closure,
    HeaterSet,
    HeaterSetPart,
    Isolation,
    Position,
    Shift,
    Site,
    Technician,
    User,
)
from planner.selectors.access import require_on_site


def technician_list(*, user: User, site: Site) -> QuerySet[Technician]:
    """The technicians at work, with their skills."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Technician.objects.filter(site=site, active=True).prefetch_related("skills")


def position_list(*, user: User, site: Site) -> QuerySet[Position]:
    """The floor positions in use, with their kinds."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Position.objects.filter(site=site, active=True).prefetch_related("kinds")


def heater_set_list(*, user: User, site: Site) -> QuerySet[HeaterSet]:
    """The heater sets in use, with their parts and what they fit."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return HeaterSet.objects.filter(site=site, active=True).prefetch_related("parts", "fits")


def heater_set_part_get(*, user: User, site: Site, part_id: int) -> HeaterSetPart:
    """One part of a set with its set; NotFoundError where it is none of the site's."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    part = HeaterSetPart.objects.filter(site=site, pk=part_id).select_related("heater_set", "site").first()
    if part is None:
        raise NotFoundError(_("there is no such part of a heater set here"))
    return part


def heater_set_faults(*, heater_set: HeaterSet, day: date) -> tuple[str, ...]:
    """Why the set may not be used on `day`, in plain words; empty where it may."""
    parts = tuple(
        SetPart(
            kind=PartKind(part.kind), state=PartState(part.state), inspection_due_on=part.inspection_due_on
        )
        for part in heater_set.parts.all()
    )
    return set_faults(parts, day)


def closure_list(*, user: User, site: Site, start: datetime, end: datetime) -> QuerySet[Closure]:
    """Closures of positions and sets that meet the time from `start` to `end`."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    closures = Closure.objects.filter(site=site, starts_at__lt=end, ends_at__gt=start)
    return closures.select_related("position", "heater_set")


def isolation_list(*, user: User, site: Site, start: datetime, end: datetime) -> QuerySet[Isolation]:
    """Isolations of the supply that meet the time from `start` to `end`."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Isolation.objects.filter(site=site, starts_at__lt=end, ends_at__gt=start)


def shift_list(*, user: User, site: Site, start: datetime, end: datetime) -> QuerySet[Shift]:
    """Shifts of technicians at work that meet the time from `start` to `end`, with their breaks."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    shifts = Shift.objects.filter(site=site, starts_at__lt=end, ends_at__gt=start, technician__active=True)
    return shifts.select_related("technician").prefetch_related("breaks")
