"""Spreadsheets of the whole site: templates, what is on file, and an import with its preview."""

from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.errors import UserError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.permissions import Action
from planner.selectors.telling import in_words
from planner.services.file_tasks.asking import is_large
from planner.services.site_tables.book import site_book, site_example_book
from planner.services.site_tables.importing import SiteImport, site_import
from planner.services.site_tables.sheets import sheet_name
from planner.services.site_tables.tables import SITE_TABLES
from planner.web.administration.broken import broken_of
from planner.web.files.answers import carried, carried_read, file_answer
from planner.web.files.tasks import left_to_worker
from planner.web.here import Here, show, site_page, tell


class SheetForm(forms.Form):
    """A workbook of the site, or one table of it as CSV."""

    file = forms.FileField(
        label=gettext_lazy("File"),
        help_text=gettext_lazy("The site's workbook (XLSX), or one table as CSV in UTF-8; at most 1.5 MB."),
    )
    sheet = forms.ChoiceField(
        label=gettext_lazy("What a CSV file holds"),
        required=False,
        help_text=gettext_lazy("A workbook says it itself."),
    )

    def __init__(self, *args: object, **more: object) -> None:
        super().__init__(*args, **more)  # type: ignore[arg-type]
        names = [(sheet_name(table), table.title) for table in SITE_TABLES.values()]
        self.fields["sheet"].choices = [("", "–"), *names]  # type: ignore[attr-defined]


@site_page(Action.SITE_CHANGE)
def sheets(request: HttpRequest, here: Here) -> HttpResponse:
    """The form; a file comes back as a preview that carries it along until it is confirmed."""
    if request.method == "POST" and "carried" in request.POST:
        return _carried_out(request, here)
    form = SheetForm(request.POST or None, request.FILES or None)
    if request.method != "POST" or not form.is_valid():
        return _page(request, here, form)
    told, raw = form.cleaned_data, form.cleaned_data["file"].read()
    if is_large(raw):
        name, sheet = told["file"].name, told["sheet"]
        return left_to_worker(request, here, FileTaskKind.SITE_IMPORT, name, raw, sheet=sheet)
    try:
        seen = site_import(
            user=here.user, site=here.site, name=told["file"].name, raw=raw, sheet=told["sheet"], keep=False
        )
    except UserError as fault:
        form.add_error("file", in_words(fault))
        return _page(request, here, form)
    return _preview(request, here, form, seen, {"name": told["file"].name, "sheet": told["sheet"]}, raw)


@site_page(Action.SITE_CHANGE)
def template(request: HttpRequest, here: Here) -> HttpResponse:
    """An empty workbook to fill in."""
    return file_answer(site_book(user=here.user, site=here.site, with_rows=False), "site-template.xlsx")


@site_page(Action.SITE_CHANGE)
def example(request: HttpRequest, here: Here) -> HttpResponse:
    """The workbook of a small invented bay, to be overwritten."""
    today = timezone.localdate()
    return file_answer(site_example_book(user=here.user, site=here.site, today=today), "site-example.xlsx")


@site_page(Action.SITE_CHANGE)
def export(request: HttpRequest, here: Here) -> HttpResponse:
    """The workbook with everything that is on file."""
    return file_answer(site_book(user=here.user, site=here.site, with_rows=True), f"{here.site.code}.xlsx")


def _carried_out(request: HttpRequest, here: Here) -> HttpResponse:
    """Import the very bytes that were previewed."""
    told: dict[str, Any] = {name: request.POST.get(name, "") for name in ("name", "sheet")}
    raw = carried_read(request)
    accepted = request.POST.get("accepted") == "yes"
    done = site_import(user=here.user, site=here.site, raw=raw, keep=True, accepted=accepted, **told)
    if done.faults or (done.broken is not None and not accepted):
        return _preview(request, here, SheetForm(), done, told, raw)
    tell(request, _("The spreadsheet is imported."))
    return redirect("administration", here.site.code)


def _preview(
    request: HttpRequest, here: Here, form: SheetForm, seen: SiteImport, told: dict[str, str], raw: bytes
) -> HttpResponse:
    broken = None if seen.broken is None else broken_of(here, seen.broken)
    return _page(request, here, form, seen=seen, broken=broken, told=told, carried=carried(raw))


def _page(request: HttpRequest, here: Here, form: SheetForm, **context: object) -> HttpResponse:
    return show(request, here, "administration/sheets.html", "administration", form=form, **context)
