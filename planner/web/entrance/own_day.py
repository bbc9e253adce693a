"""A technician's own sheet of today."""

from datetime import datetime

from django.utils import timezone

from planner.selectors.nouns import Plan
from planner.selectors.resources import technician_list
from planner.web.here import Here
from planner.web.sheet.sheet_view import SheetView, sheets_of_day


def own_sheet(here: Here, plan: Plan, now: datetime) -> SheetView | None:
    """The reader's sheet of today by the plan; None where they are no technician or have no shift."""
    me = technician_list(user=here.user, site=here.site).filter(user=here.user).first()
    if me is None:
        return None
    sheets = sheets_of_day(here, plan, timezone.localdate(now), technician=me.code)
    return sheets[0] if sheets else None
