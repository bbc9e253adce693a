"""A technician's own day: the shift that they are on, or the next one, with its sheet."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from planner.selectors.nouns import Plan, Shift
from planner.selectors.plans import plan_content_get
from planner.selectors.resources import shift_list, technician_list
from planner.web.here import Here
from planner.web.sheet.sheet_view import SheetView, sheets_of_days

_AHEAD = timedelta(days=60)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnDay:
    """The shift that runs or else comes next; its sheet where the published plan knows it."""

    is_technician: bool = True
    shift: Shift | None = None
    is_on: bool = False
    sheet: SheetView | None = None


def own_day(here: Here, plan: Plan | None, now: datetime) -> OwnDay:
    """The reader's own; a night shift runs past midnight, so it is the shift's day that counts, not today."""
    me = technician_list(user=here.user, site=here.site).filter(user=here.user).first()
    if me is None:
        return OwnDay(is_technician=False)
    ahead = shift_list(user=here.user, site=here.site, start=now, end=now + _AHEAD)
    shift = ahead.filter(technician=me).order_by("starts_at").first()
    if shift is None:
        return OwnDay()
    sheet = _sheet(here, plan, shift, me.code) if plan is not None else None
    return OwnDay(shift=shift, is_on=shift.starts_at <= now, sheet=sheet)


def own_sheet(here: Here, plan: Plan, now: datetime) -> SheetView | None:
    """The reader's sheet of the shift that runs, or of the next one that begins today.

    A night shift runs past midnight, so yesterday's is looked at as well. After the last shift of the day its
    sheet stays, for what runs over; None where they are no technician or have no shift.
    """
    me = technician_list(user=here.user, site=here.site).filter(user=here.user).first()
    if me is None:
        return None
    today = timezone.localdate(now)
    content = plan_content_get(plan=plan)
    sheets = sheets_of_days(here, content, today - timedelta(days=1), today, me.code)
    open_sheets = [each for each in sheets if each.end > now]
    of_today = [each for each in sheets if timezone.localdate(each.start) == today]
    return next(iter(open_sheets or reversed(of_today)), None)


def _sheet(here: Here, plan: Plan, shift: Shift, technician: str) -> SheetView | None:
    day = timezone.localdate(shift.starts_at)
    sheets = sheets_of_days(here, plan_content_get(plan=plan), day, day, technician)
    return next((each for each in sheets if each.start == shift.starts_at), None)
