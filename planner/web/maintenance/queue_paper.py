"""The queue on paper, filtered as on the screen."""

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import gettext as _

from planner.domain.permissions import Action
from planner.selectors.plans import plan_published_get
from planner.web.files.answers import file_answer
from planner.web.here import Here, show, site_page
from planner.web.maintenance.queue import orders_wanted, rows_of
from planner.web.maintenance.queue_filter import QueueFilter
from planner.web.sheet.pdf import NoPdfError, pdf_of

MOST_ROWS = 500


@site_page(Action.SITE_READ)
def queue_pdf(request: HttpRequest, here: Here) -> HttpResponse:
    """As PDF; where this machine can't write one, the same as a page to print."""
    form = QueueFilter(request.GET or None)
    plan = plan_published_get(user=here.user, site=here.site)
    context = {
        "rows": rows_of(plan, orders_wanted(here, form)[:MOST_ROWS]),
        "filtered": form.words(),
        "published": plan,
        "now": timezone.localtime(),
    }
    try:
        html = render_to_string("maintenance/queue_paper.html", {"here": here, **context}, request=request)
        body = pdf_of(html, finders.find("tyrewright/queue-paper.css"))
    except NoPdfError:
        notice = _("This machine can't write PDF. Print this page instead.")
        return show(request, here, "maintenance/queue_print.html", "queue", notice=notice, **context)
    name = f"queue-{here.site.code}-{context['now']:%Y-%m-%d}.pdf"
    return file_answer(body, name)
