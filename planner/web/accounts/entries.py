"""The books of prices, rates, sets, stock and past repairs: what is on file, and one row entered by hand."""

from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django import forms
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.errors import UserError
from planner.domain.permissions import Action
from planner.selectors.accounts.entries import entry_list, holding_get
from planner.selectors.nouns import User
from planner.selectors.telling import in_words
from planner.services.accounts.entries import EntryFaultError, entry_record
from planner.services.accounts.imports.importing import kind_get
from planner.services.accounts.imports.kinds import IMPORT_KINDS, ImportKind
from planner.services.imports.columns import Column
from planner.web.here import Here, show, site_page, tell

ROWS_ON_A_PAGE = 50


class EntryForm(forms.Form):
    """A field for each column of the book, and the reason; the book's own rules judge what is typed."""

    def __init__(self, *args: Any, kind: ImportKind, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for column in kind.columns:
            self.fields[column.field] = _field(kind, column)
        self.fields["reason"] = forms.CharField(label=gettext_lazy("Reason"), max_length=300)


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryRow:
    """A row as it is read: its values by column, whether it holds today, its source, who entered it why."""

    cells: tuple[Any, ...]
    holds: bool | None
    source: str
    author: User | None
    reason: str


@site_page(Action.MONEY_READ)
def book(request: HttpRequest, here: Here, name: str = "prices") -> HttpResponse:
    """One book in pages, and the form for a row of it."""
    kind = kind_get(name)
    may_change = here.allows(Action.MONEY_CHANGE)
    form = EntryForm(request.POST or None, kind=kind)
    if request.method == "POST" and may_change and form.is_valid() and _entered(request, here, kind, form):
        return redirect("accounts_entries", here.site.code, name)
    search = request.GET.get("search", "")
    rows = entry_list(user=here.user, site=here.site, book=name, search=search)
    page = Paginator(rows, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    holding = holding_get(user=here.user, site=here.site, book=name)
    return show(
        request, here, "accounts/entries.html", "accounts", kind=kind, kinds=IMPORT_KINDS.values(), form=form,
        headings=[column.name for column in _shown_columns(kind)],
        page=page, rows=[_row(kind, row, holding) for row in page.object_list], search=search,
        may_change=may_change, query=_query(search),
    )  # fmt: skip


def _entered(request: HttpRequest, here: Here, kind: ImportKind, form: EntryForm) -> bool:
    """Whether the row was written; its faults stand on the form's fields where it was not."""
    told = dict(form.cleaned_data)
    reason = told.pop("reason")
    cells = {column.name: told[column.field] for column in kind.columns}
    try:
        done = entry_record(user=here.user, site=here.site, kind=kind.name, cells=cells, reason=reason)
    except EntryFaultError as found:
        fields = {column.name: column.field for column in kind.columns}
        for fault in found.faults:
            form.add_error(fields.get(fault.column), in_words(fault.message))
        return False
    except UserError as fault:
        form.add_error(None, in_words(fault))
        return False
    words = [_("It is there already.") if done.changes_nothing else _("It is in the books.")]
    tell(request, " ".join([*words, *(f"{note.column}: {in_words(note.message)}." for note in done.notes)]))
    return True


def _query(search: str) -> str:
    return urlencode({"search": search}) if search else ""


def _field(kind: ImportKind, column: Column) -> forms.Field:
    shown: dict[str, Any] = {
        "label": column.name.capitalize(),
        "required": column.required,
        "help_text": column.help,
    }
    field = kind.model._meta.get_field(column.field)
    choices = getattr(field, "choices", None) or ()
    if choices:
        return forms.ChoiceField(choices=choices, **shown)
    if field.get_internal_type() == "BooleanField":
        return forms.ChoiceField(choices=[("no", _("no")), ("yes", _("yes"))], **shown)
    if field.get_internal_type() == "DateField":
        return forms.CharField(widget=forms.DateInput(attrs={"type": "date"}), **shown)
    return forms.CharField(max_length=200, **shown)


def _row(kind: ImportKind, row: Any, holding: frozenset[int]) -> EntryRow:
    """Its values, days as days; whether it holds is told where another row can follow it."""
    return EntryRow(
        cells=tuple(_shown(getattr(row, column.field)) for column in _shown_columns(kind)),
        holds=row.pk in holding if holding else None,
        source=getattr(row, "source", ""),
        author=getattr(row, "author", None),
        reason=getattr(row, "reason", ""),
    )


def _shown_columns(kind: ImportKind) -> list[Column]:
    """All but the source, which stands with the author."""
    return [column for column in kind.columns if column.field != "source"]


def _shown(value: Any) -> Any:
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    return value.isoformat() if isinstance(value, date) else "" if value is None else value
