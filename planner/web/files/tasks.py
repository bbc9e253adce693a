"""A file on its way in or out: how far it is, what came of it, and the press that ends or keeps it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from planner.domain.errors import NotFoundError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.permissions import Action
from planner.domain.states import PlanBuildState
from planner.selectors.file_tasks import file_task_get, file_task_list
from planner.services.file_tasks.asking import OPEN, file_task_ask, file_task_cancel, file_task_keep
from planner.web.files.answers import file_answer
from planner.web.here import Here, show, site_page, tell

_SHOWN = 50


@site_page(Action.SITE_READ)
def file_tasks(request: HttpRequest, here: Here) -> HttpResponse:
    """Those of the last week that the reader may ask for."""
    rows = file_task_list(user=here.user, site=here.site)[:_SHOWN]
    return show(request, here, "files/list.html", rows=rows)


@site_page(Action.SITE_READ)
def file_task(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """One of them; asks again by itself until it is over."""
    row = file_task_get(user=here.user, site=here.site, task_id=number)
    is_part = bool(getattr(request, "htmx", False))
    is_tried = row.state == PlanBuildState.DONE and row.options.get("keep") is False
    changes = sum(sheet["added"] + sheet["changed"] for sheet in row.told.get("sheets", ()))
    return show(
        request, here, "files/part.html" if is_part else "files/task.html", row=row,
        is_open=row.state in OPEN, is_tried=is_tried, is_kept=bool(row.options.get("keep")),
        may_keep=is_tried and changes and not row.told.get("fault_count"),
    )  # fmt: skip


@require_POST
@site_page(Action.SITE_READ)
def cancel(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Call it off."""
    file_task_cancel(user=here.user, task=file_task_get(user=here.user, site=here.site, task_id=number))
    return redirect("file_task", here.site.code, number)


@require_POST
@site_page(Action.SITE_READ)
def keep(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """Import the file that was tried."""
    tried = file_task_get(user=here.user, site=here.site, task_id=number)
    accepted = request.POST.get("accepted") == "yes"
    return _asked(here, file_task_keep(user=here.user, task=tried, accepted=accepted).pk)


@site_page(Action.SITE_READ)
def result(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """The file that was written, to be saved."""
    row = file_task_get(user=here.user, site=here.site, task_id=number)
    if not row.result_name:
        raise NotFoundError(_("There is no file here: see how far it is."))
    return file_answer(bytes(row.result_raw), row.result_name)


@require_POST
@site_page(Action.MONEY_READ)
def repairs_export(request: HttpRequest, here: Here) -> HttpResponse:
    """Have every booked repair written by a worker."""
    row = file_task_ask(user=here.user, site=here.site, kind=FileTaskKind.REPAIRS_EXPORT)
    return _asked(here, row.pk)


def _asked(here: Here, number: int) -> HttpResponse:
    return redirect("file_task", here.site.code, number)


def left_to_worker(
    request: HttpRequest, here: Here, kind: FileTaskKind, name: str, raw: bytes, **options: str
) -> HttpResponse:
    """Have a worker try a large file; where that goes on is the page of its task."""
    row = file_task_ask(
        user=here.user, site=here.site, kind=kind, name=name, raw=raw, options={**options, "keep": False}
    )
    tell(request, _("The file is large and is tried in the background. You may go on with other pages."))
    return _asked(here, row.pk)
