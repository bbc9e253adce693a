"""What the keeper of a bay should see to: inspections that come due, and a roster that runs out."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from django.db.models import Max, QuerySet

from planner.domain.permissions import Action
from planner.domain.states import PartState
from planner.models import HeaterSet, HeaterSetPart, Shift, Site, User
from planner.selectors.access import require_on_site

INSPECTIONS_AHEAD = timedelta(days=14)


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionDue:
    """The parts in use of one set that are to be inspected by one day."""

    heater_set: HeaterSet
    day: date
    parts: Sequence[HeaterSetPart]
    is_over: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """What is to be inspected soon, or was to be, and the last day on which somebody is on shift."""

    inspections: Sequence[InspectionDue]
    shifts_until: date | None
    shifts_end_soon: bool


def upkeep_get(*, user: User, site: Site, today: date) -> Upkeep:
    """Two queries beside the access check; a roster ends soon where a plan of the usual length outruns it."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    due = HeaterSetPart.objects.filter(
        site=site,
        heater_set__active=True,
        state=PartState.FIT,
        inspection_due_on__lte=today + INSPECTIONS_AHEAD,
    )
    until = Shift.objects.filter(site=site, day__gte=today).aggregate(last=Max("day"))["last"]
    return Upkeep(
        inspections=_inspections(due, today),
        shifts_until=until,
        shifts_end_soon=until is None or until < today + timedelta(days=site.horizon_days),
    )


def _inspections(due: QuerySet[HeaterSetPart], today: date) -> list[InspectionDue]:
    """By day and set, the earliest first."""
    parts = due.select_related("heater_set").order_by("inspection_due_on", "heater_set", "kind")
    together = groupby(parts, key=lambda part: (part.inspection_due_on, part.heater_set))
    return [
        InspectionDue(heater_set=heater_set, day=day, parts=list(group), is_over=day < today)
        for (day, heater_set), group in together
    ]
