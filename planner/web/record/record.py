"""The record's page, and the same as PDF."""

from typing import Any

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils.translation import gettext as _

from planner.domain.permissions import Action
from planner.selectors.preferences import Beside
from planner.selectors.repair_records import RepairRecord, repair_record_get
from planner.selectors.work_orders import work_order_get
from planner.web.cautions import DEFERENCE
from planner.web.files.answers import file_answer
from planner.web.here import Here, show, site_page
from planner.web.record.record_view import injury_views
from planner.web.sheet.pdf import NoPdfError, pdf_of


@site_page(Action.SITE_READ)
def record(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """The version that is asked for, the last one signed, or the draft."""
    found = _record(request, here, number)
    return show(request, here, "record/page.html", "queue", **_context(here, found, paper=False))


@site_page(Action.SITE_READ)
def record_pdf(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """The same on paper; the page to print where this machine can't write PDF."""
    found = _record(request, here, number)
    context = _context(here, found, paper=True)
    html = render_to_string("record/paper.html", {"here": here, **context}, request=request)
    try:
        body = pdf_of(html, finders.find("tyrewright/record.css"))
    except NoPdfError:
        notice = _("This machine can't write PDF. Print this page instead: it is laid out for paper.")
        context = _context(here, found, paper=False)
        return show(request, here, "record/page.html", "queue", notice=notice, **context)
    version = f"v{found.version.number}" if found.version else "draft"
    name = f"record-{found.order.code}-{version}.pdf"
    return file_answer(body, name)


def _record(request: HttpRequest, here: Here, number: int) -> RepairRecord:
    wanted = request.GET.get("version", "")
    order = work_order_get(user=here.user, site=here.site, number=number)
    version = int(wanted) if wanted.isdecimal() and len(wanted) < 6 else None
    return repair_record_get(user=here.user, order=order, number=version)


def _context(here: Here, found: RepairRecord, *, paper: bool) -> dict[str, Any]:
    return {
        "order": found.order,
        "record": found,
        "content": found.content,
        "injuries": injury_views(here, found, paper=paper),
        "paper": paper,
        "deference": DEFERENCE,
        "units": "as kept" if paper else Beside(reading=here.reading),
    }
