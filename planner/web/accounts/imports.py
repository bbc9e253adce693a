"""Importing a file: first what it would do, then all of it."""

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from planner.domain.errors import UserError
from planner.domain.file_tasks import FileTaskKind
from planner.domain.permissions import Action
from planner.selectors.telling import in_words
from planner.services.accounts.imports.importing import ImportPreview, import_apply, import_preview
from planner.services.accounts.imports.kinds import IMPORT_KINDS
from planner.services.file_tasks.asking import is_large
from planner.web.files.answers import carried, carried_read
from planner.web.files.tasks import left_to_worker
from planner.web.here import Here, show, site_page, tell


class ImportForm(forms.Form):
    """A file and what it holds."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What it holds"),
        choices=[(kind.name, kind.words) for kind in IMPORT_KINDS.values()],
    )
    file = forms.FileField(
        label=gettext_lazy("File"),
        help_text=gettext_lazy("CSV in UTF-8, or the first sheet of an XLSX, at most 1.5 MB."),
    )


@site_page(Action.MONEY_CHANGE)
def imports(request: HttpRequest, here: Here) -> HttpResponse:
    """The form; a file comes back as a preview that carries it along until it is confirmed."""
    if request.method == "POST" and "confirmed" in request.POST:
        return _carried_out(request, here)
    form = ImportForm(request.POST or None, request.FILES or None)
    preview, carries = None, ""
    if request.method == "POST" and form.is_valid():
        raw = form.cleaned_data["file"].read()
        if is_large(raw):
            name, holds = form.cleaned_data["file"].name, form.cleaned_data["kind"]
            return left_to_worker(request, here, FileTaskKind.BOOKS_IMPORT, name, raw, holds=holds)
        preview = _previewed(here, form, raw)
        carries = carried(raw)
    return show(
        request, here, "accounts/import.html", "accounts", form=form, preview=preview, carried=carries,
        kinds=IMPORT_KINDS.values(),
    )  # fmt: skip


def _previewed(here: Here, form: ImportForm, raw: bytes) -> ImportPreview | None:
    told = form.cleaned_data
    try:
        return import_preview(
            user=here.user, site=here.site, kind=told["kind"], name=told["file"].name, raw=raw
        )
    except UserError as fault:
        form.add_error("file", in_words(fault))
        return None


def _carried_out(request: HttpRequest, here: Here) -> HttpResponse:
    """Import the very bytes that were previewed."""
    done = import_apply(
        user=here.user, site=here.site, kind=request.POST.get("kind", ""),
        name=request.POST.get("name", ""), raw=carried_read(request), why=request.POST.get("why", ""),
    )  # fmt: skip
    tell(
        request,
        _("Imported: %(added)s added, %(changed)s changed, %(unchanged)s as they were.")
        % {"added": len(done.added), "changed": len(done.changed), "unchanged": done.unchanged},
    )
    return redirect("accounts_import", here.site.code)
