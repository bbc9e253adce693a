"""The shift plan: one event for each technician's shift, with its lines."""

from django.utils import timezone
from django.utils.translation import gettext as _

from planner.domain.permissions import Role
from planner.selectors.nouns import Plan
from planner.selectors.plans import plan_content_get
from planner.selectors.resources import technician_list
from planner.web.feeds.calendars import FeedEvent
from planner.web.here import Here
from planner.web.sheet.lines import LineKind
from planner.web.sheet.sheet_view import LineView, SheetView, sheets_of_plan


def shift_events(here: Here, plan: Plan) -> list[FeedEvent]:
    """Everybody's shifts; a technician's feed holds their own alone. Codes, not names: it leaves the site."""
    sheets = sheets_of_plan(here, plan_content_get(plan=plan))
    if here.role is Role.TECHNICIAN:
        own = technician_list(user=here.user, site=here.site).filter(user=here.user)
        mine = set(own.values_list("code", flat=True))
        sheets = [sheet for sheet in sheets if sheet.technician in mine]
    return [_event(plan, sheet) for sheet in sheets]


def _event(plan: Plan, sheet: SheetView) -> FeedEvent:
    day = timezone.localtime(sheet.start).date()
    return FeedEvent(
        about=f"shift/{sheet.technician}/{day}/{sheet.start:%H%M}",
        title=_("Shift of %(who)s") % {"who": sheet.technician},
        words="\n".join(_line(line) for line in sheet.lines) or _("Nothing is planned."),
        starts_at=sheet.start,
        ends_at=sheet.end,
        is_busy=True,
        plan=plan,
    )


def _line(line: LineView) -> str:
    times = f"{timezone.localtime(line.start):%H:%M}–{timezone.localtime(line.end):%H:%M}"
    tyres = ", ".join(str(tyre) for tyre in line.tyres)
    if line.line.kind is LineKind.BREAK:
        return _("%(times)s break") % {"times": times}
    if line.line.kind is LineKind.WATCH:
        return _("%(times)s attend: %(tyres)s") % {"times": times, "tyres": tyres}
    stage = line.line.stage.name if line.line.stage else ""
    return f"{times} {stage}: {tyres} {line.place}".rstrip()
