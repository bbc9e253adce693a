"""The shift sheets: a page to read and print, and the same as PDF."""

from datetime import date
from typing import Any

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.dateparse import parse_date
from django.utils.translation import gettext as _

from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plans import plan_content_get, plan_get, plan_published_get
from planner.web.cautions import BEFORE_WORK, DEFERENCE, END_OF_DAY
from planner.web.files.answers import file_answer
from planner.web.here import Here, show, site_page
from planner.web.sheet.pdf import NoPdfError, pdf_of
from planner.web.sheet.sheet_view import days_of, sheets_of_days, staffed_days


@site_page(Action.SITE_READ)
def sheets(request: HttpRequest, here: Here) -> HttpResponse:
    """The sheets of a day of the plan that holds, or of the draft that is named."""
    plan = _plan(request, here)
    if plan is None:
        return show(request, here, "sheet/empty.html", "sheets")
    return show(request, here, "sheet/page.html", "sheets", **_context(request, here, plan))


@site_page(Action.SITE_READ)
def sheets_pdf(request: HttpRequest, here: Here) -> HttpResponse:
    """The same on paper; the page to print where this machine can't write PDF."""
    plan = _plan(request, here)
    if plan is None:
        return show(request, here, "sheet/empty.html", "sheets")
    context = _context(request, here, plan)
    html = render_to_string("sheet/paper.html", {"here": here, **context}, request=request)
    try:
        body = pdf_of(html, finders.find("tyrewright/sheet.css"))
    except NoPdfError:
        notice = _("This machine can't write PDF. Print this page instead: it is laid out for paper.")
        return show(request, here, "sheet/page.html", "sheets", notice=notice, **context)
    name = f"shift-sheets-{here.site.code}-{context['day']:%Y-%m-%d}.pdf"
    return file_answer(body, name)


def _plan(request: HttpRequest, here: Here) -> Plan | None:
    wanted = request.GET.get("plan", "")
    if wanted.isdecimal():
        return plan_get(user=here.user, site=here.site, plan_id=int(wanted))
    return plan_published_get(user=here.user, site=here.site)


def _context(request: HttpRequest, here: Here, plan: Plan) -> dict[str, Any]:
    content = plan_content_get(plan=plan)
    days = list(days_of(here, content))
    day = _day_asked(request, days) or _next_day(days, staffed_days(here, content))
    technician = request.GET.get("technician", "")
    everyone = sheets_of_days(here, content, day, day)
    return {
        "plan": plan,
        "day": day,
        "days": days,
        "technician": technician,
        "people": [(sheet.technician, sheet.name) for sheet in everyone],
        "sheets": [sheet for sheet in everyone if not technician or sheet.technician == technician],
        "before_work": BEFORE_WORK,
        "end_of_day": END_OF_DAY,
        "deference": DEFERENCE,
    }


def _day_asked(request: HttpRequest, days: list[date]) -> date | None:
    """The day asked for, where the plan covers it."""
    try:
        wanted = parse_date(request.GET.get("day", ""))
    except ValueError:
        return None
    return wanted if wanted in days else None


def _next_day(days: list[date], staffed: set[date]) -> date:
    """From today on the first of the plan's days on which a shift begins; without any, its first day."""
    today = timezone.localdate()
    return next((day for day in days if day >= today and day in staffed), days[0])
