"""Register many damaged tyres from a file: first what it would do, cell by cell, then all of it."""

from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from planner.domain.errors import InvalidValueError, NotFoundError, UserError
from planner.domain.permissions import Action
from planner.selectors.telling import in_words
from planner.services.damage_sheet import DAMAGE_SHEET, damage_import
from planner.services.imports.blank import blank_csv, blank_xlsx
from planner.services.imports.row_by_row import SheetOutcome
from planner.services.imports.table import TableRow, table_read
from planner.web.files.answers import carried, carried_read, file_answer
from planner.web.here import Here, show, site_page, tell


class FileForm(forms.Form):
    """A file of damaged tyres."""

    file = forms.FileField(
        label=gettext_lazy("File"), help_text=gettext_lazy("CSV in UTF-8, or XLSX; a row for each tyre.")
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CellView:
    """A cell as it stands in the file, and whether something is wrong with it."""

    text: str
    is_faulty: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RowView:
    """A row of the file, and what is wrong with it: by its column, or with the whole of it."""

    number: int
    cells: tuple[CellView, ...]
    faults: tuple[str, ...] = ()


@site_page(Action.WORK_ORDER_RECEIVE)
def damage_file(request: HttpRequest, here: Here) -> HttpResponse:
    """The form; a file comes back as a preview that carries it along until it is confirmed."""
    if request.method == "POST" and "confirmed" in request.POST:
        return _carried_out(request, here)
    form = FileForm(request.POST or None, request.FILES or None)
    context: dict[str, Any] = {}
    if request.method == "POST" and form.is_valid():
        context = _previewed(here, form)
    return show(
        request, here, "maintenance/damage_import.html", "queue", form=form, columns=DAMAGE_SHEET.columns,
        **context,
    )  # fmt: skip


@site_page(Action.WORK_ORDER_RECEIVE)
def damage_blank(request: HttpRequest, here: Here, kind: str) -> HttpResponse:
    """An empty file with the right columns."""
    if kind not in {"csv", "xlsx"}:
        raise NotFoundError(_("There is no such file."))
    columns = DAMAGE_SHEET.columns
    body = blank_csv(columns) if kind == "csv" else blank_xlsx(DAMAGE_SHEET.words, columns)
    return file_answer(body, f"damaged-tyres.{kind}")


def _previewed(here: Here, form: FileForm) -> dict[str, Any]:
    file = form.cleaned_data["file"]
    raw = file.read()
    try:
        rows = table_read(file.name, raw)
        outcome = damage_import(user=here.user, site=here.site, rows=rows, keep=False)
    except UserError as fault:
        form.add_error("file", in_words(fault))
        return {}
    return {
        "outcome": outcome,
        "rows": rows_view(rows, outcome),
        "name": file.name,
        "carried": carried(raw),
    }


def rows_view(rows: list[TableRow], outcome: SheetOutcome) -> list[RowView]:
    """The file as a table; below each row what is wrong with it."""
    faulty = {(fault.row, fault.column) for fault in outcome.faults}
    return [
        RowView(
            number=row.number,
            cells=tuple(
                CellView(
                    text="" if row.cells.get(column.name) is None else str(row.cells[column.name]),
                    is_faulty=(row.number, column.name) in faulty,
                )
                for column in DAMAGE_SHEET.columns
            ),
            faults=tuple(
                f"{fault.column}: {in_words(fault.message)}" if fault.column else in_words(fault.message)
                for fault in outcome.faults
                if fault.row == row.number
            ),
        )
        for row in rows
    ]


def _carried_out(request: HttpRequest, here: Here) -> HttpResponse:
    """Register the very bytes that were previewed."""
    rows = table_read(request.POST.get("name", ""), carried_read(request))
    outcome = damage_import(user=here.user, site=here.site, rows=rows, keep=True)
    if outcome.faults:
        first = outcome.faults[0]
        place = {"row": first.row, "message": in_words(first.message)}
        raise InvalidValueError(_("Nothing was registered. Row %(row)s: %(message)s") % place)
    words = ngettext("%(n)s tyre is in the queue.", "%(n)s tyres are in the queue.", outcome.added)
    tell(request, words % {"n": outcome.added})
    return redirect("queue", here.site.code)
