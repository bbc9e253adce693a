"""Putting the roster on the calendar."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from django.db import transaction

from planner.domain.errors import ConflictError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import RosterException, RosterPattern, Shift, ShiftBreak, Site, Technician, User
from planner.selectors.access import require_on_site
from planner.services.audit import audit_event_add
from planner.services.roster_days import RosteredShift, rostered_shifts


def shifts_make(*, user: User, site: Site, first_day: date, last_day: date, why: str = "") -> int:
    """Make the shifts of all technicians at work from `first_day` to `last_day`, both in it; how many.

    Shifts of these days that the roster no longer holds go; the same roster again changes nothing.
    Raises ConflictError where two shifts of one technician would overlap.
    """
    require_on_site(user=user, site=site, action=Action.ROSTER_CHANGE)
    wanted = _wanted(site, first_day, last_day)
    _refuse_overlaps(site, wanted)
    with transaction.atomic():
        Shift.objects.filter(site=site, day__gte=first_day, day__lte=last_day).delete()
        for rostered in wanted:
            _store(site, rostered)
        what = f"made {len(wanted)} shifts from {first_day} to {last_day}"
        audit_event_add(site=site, user=user, action="shifts_make", row=site, what=what, why=why)
    return len(wanted)


def _wanted(site: Site, first_day: date, last_day: date) -> list[RosteredShift]:
    patterns = RosterPattern.objects.filter(site=site, technician__active=True, first_day__lte=last_day)
    exceptions = RosterException.objects.filter(
        site=site, technician__active=True, day__gte=first_day, day__lte=last_day
    )
    found = rostered_shifts(
        patterns.prefetch_related("breaks"), exceptions, first_day, last_day, site.time_zone
    )
    return sorted(found, key=lambda shift: (shift.technician_id, shift.starts_at))


def _refuse_overlaps(site: Site, shifts: Sequence[RosteredShift]) -> None:
    for one, two in pairwise(shifts):
        if one.technician_id == two.technician_id and two.starts_at < one.ends_at:
            who = Technician.objects.get(pk=one.technician_id, site=site)
            raise ConflictError(
                _("{who} would have two shifts at once on {day}: mend the roster first", who=who, day=two.day)
            )


def _store(site: Site, rostered: RosteredShift) -> None:
    shift = Shift.objects.create(
        site=site,
        technician_id=rostered.technician_id,
        day=rostered.day,
        starts_at=rostered.starts_at,
        ends_at=rostered.ends_at,
    )
    ShiftBreak.objects.bulk_create(
        ShiftBreak(shift=shift, starts_at=start, ends_at=end) for start, end in rostered.breaks
    )
