"""A technician's own sheet of the shift that they are on."""

from datetime import datetime, timedelta

from django.utils import timezone

from planner.selectors.nouns import Plan
from planner.selectors.plans import plan_content_get
from planner.selectors.resources import technician_list
from planner.web.here import Here
from planner.web.sheet.sheet_view import SheetView, sheets_of_days


def own_sheet(here: Here, plan: Plan, now: datetime) -> SheetView | None:
    """The reader's sheet of the shift that runs, or of the next one that begins today.

    A night shift runs past midnight, so yesterday's is looked at as well. After the last shift of the day its
    sheet stays; None where they are no technician or have no shift.
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
