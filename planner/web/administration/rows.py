"""The pages of any table: its list, a new row, a row changed, a row ended."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.core.paginator import Paginator
from django.db import models
from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import URLPattern, path, reverse
from django.utils.translation import gettext as _

from planner.domain.errors import InvalidValueError, UserError
from planner.selectors.kept_nouns import noun_get, noun_list, noun_model
from planner.selectors.telling import in_words
from planner.services.nouns import NOUNS
from planner.services.plan_guard import PlanBreaksError
from planner.services.site_tables.changing import kept_row_add, kept_row_change, table_row_end
from planner.services.site_tables.tables import SITE_TABLES, SiteTable
from planner.web.administration.broken import Broken, broken_of
from planner.web.administration.cells import cell_words
from planner.web.administration.forms import KeptForm, table_form
from planner.web.administration.labels import LABELS
from planner.web.here import Here, SitePage, show, site_page, tell

_PAGE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """Rows of a table, written out."""

    table: SiteTable
    heads: tuple[Any, ...]
    rows: tuple[tuple[int, bool, tuple[str, ...]], ...]

    @property
    def row_address(self) -> str:
        """The name of a row's address."""
        return f"table_{self.table.noun}_row"


@dataclass(frozen=True, slots=True, kw_only=True)
class TablePages:
    """The four views of one table."""

    table: SiteTable

    def list(self, request: HttpRequest, here: Here) -> HttpResponse:
        """The rows, searched and by pages."""
        search = request.GET.get("search", "").strip()
        rows = _searched(_rows(here, self.table), self.table, search)
        page = Paginator(rows, _PAGE).get_page(request.GET.get("page"))
        return show(
            request, here, "administration/list.html", "administration", table=self.table, page=page,
            listed=listed_of(here, self.table, page.object_list), search=search, **self._names(),
        )  # fmt: skip

    def add(self, request: HttpRequest, here: Here) -> HttpResponse:
        """A new row; `within` may be given in the address."""
        initial = request.GET.dict()
        form = table_form(self.table, here.site, request.POST or None, initial=initial)
        if request.method != "POST" or not form.is_valid():
            return self._form(request, here, form)

        def save(accepted: bool) -> models.Model:
            return kept_row_add(
                user=here.user, site=here.site, noun=self.table.noun, values=form.values(), accepted=accepted
            )

        return self._saved(request, here, form, save)

    def change(self, request: HttpRequest, here: Here, row: int) -> HttpResponse:
        """A row on file; sent from an old page it is refused."""
        found = noun_get(user=here.user, site=here.site, noun=self.table.noun, row_id=row)
        version = getattr(found, "version", None)
        form = table_form(self.table, here.site, request.POST or None, row=found)
        if request.method != "POST" or not form.is_valid():
            return self._form(request, here, form, row=found, version=version)
        sent = request.POST.get("version", "")

        def save(accepted: bool) -> models.Model:
            return kept_row_change(
                user=here.user, site=here.site, noun=self.table.noun, row_id=row, values=form.values(),
                accepted=accepted, expected_version=int(sent) if sent.isdecimal() else None,
            )  # fmt: skip

        return self._saved(request, here, form, save, row=found, version=version)

    def end(self, request: HttpRequest, here: Here, row: int) -> HttpResponse:
        """End a row, with the reason."""
        found = noun_get(user=here.user, site=here.site, noun=self.table.noun, row_id=row)
        broken: Broken | None = None
        fault = ""
        if request.method == "POST":
            try:
                table_row_end(
                    user=here.user, site=here.site, table=self.table, row_id=row,
                    why=request.POST.get("why", ""), last_day=_day(request.POST.get("last_day", "")),
                    accepted=request.POST.get("accepted") == "yes",
                )  # fmt: skip
            except PlanBreaksError as error:
                broken = broken_of(here, error)
            except UserError as error:
                fault = in_words(error)
            else:
                return self._told(request, here, _("%(row)s has ended.") % {"row": found})
        return show(
            request, here, "administration/end.html", "administration", table=self.table, row=found,
            broken=broken, fault=fault, sent=request.POST, **self._names(),
        )  # fmt: skip

    def _saved(
        self,
        request: HttpRequest,
        here: Here,
        form: KeptForm,
        save: Callable[[bool], models.Model],
        **context: Any,
    ) -> HttpResponse:
        """Save; where the published plan would break, the form comes back and says so first."""
        try:
            saved = save(request.POST.get("accepted") == "yes")
        except PlanBreaksError as error:
            return self._form(request, here, form, broken=broken_of(here, error), **context)
        except UserError as fault:
            form.add_error(None, in_words(fault))
            return self._form(request, here, form, **context)
        return self._told(request, here, _("%(row)s is on file.") % {"row": saved})

    def _names(self) -> dict[str, str]:
        """The names of the table's addresses, for its templates."""
        name = f"table_{self.table.noun}"
        return {"list_name": name} | {f"{each}_name": f"{name}_{each}" for each in ("add", "row", "end")}

    def _told(self, request: HttpRequest, here: Here, words: str) -> HttpResponse:
        if request.POST.get("accepted") == "yes":
            words += " " + _("The supervisors see that the published plan no longer holds.")
        tell(request, words)
        return redirect(f"table_{self.table.noun}", here.site.code)

    def _form(
        self,
        request: HttpRequest,
        here: Here,
        form: KeptForm,
        row: models.Model | None = None,
        **context: Any,
    ) -> HttpResponse:
        inner = [] if row is None else [_within(here, each, row) for each in _inner(self.table, row)]
        return show(
            request, here, "administration/row.html", "administration", table=self.table, form=form, row=row,
            inner=inner, **self._names(), **context,
        )  # fmt: skip


def table_urls() -> list[URLPattern]:
    """The addresses of every table, each asking for its noun's own action."""
    found = []
    for noun, table in SITE_TABLES.items():
        pages, at = TablePages(table=table), f"site/{noun}/"
        views: tuple[tuple[str, SitePage, str], ...] = (
            (at, pages.list, f"table_{noun}"),
            (f"{at}<int:row>/", pages.change, f"table_{noun}_row"),
            (f"{at}<int:row>/end/", pages.end, f"table_{noun}_end"),
        )
        if noun != "sitemembership":
            views += ((f"{at}add/", pages.add, f"table_{noun}_add"),)
        found += [path(to, site_page(NOUNS[noun].action)(view), name=name) for to, view, name in views]
    return found


def listed_of(here: Here, table: SiteTable, rows: Any, but: str = "") -> Listed:
    """The rows of a table in words, `but` one column; a row that has ended is marked."""
    names = [name for name in table.columns if name != but]
    return Listed(
        table=table,
        heads=tuple(LABELS.get(name, name) for name in names),
        rows=tuple(
            (
                row.pk,
                not getattr(row, "active", True),
                tuple(cell_words(row, name, here.reading) for name in names),
            )
            for row in rows
        ),
    )


def _rows(here: Here, table: SiteTable) -> QuerySet[models.Model]:
    rows = noun_list(user=here.user, site=here.site, noun=table.noun)
    named = [
        name for name in table.columns
        if rows.model._meta.get_field(name).many_to_one or rows.model._meta.get_field(name).one_to_one
    ]  # fmt: skip
    return rows.select_related(*named) if named else rows


def _searched(rows: QuerySet[models.Model], table: SiteTable, search: str) -> QuerySet[models.Model]:
    """Rows with the words in any field of letters, their own or of what they name."""
    if not search:
        return rows
    wanted = Q()
    for name in table.columns:
        field = rows.model._meta.get_field(name)
        target = field.related_model
        if isinstance(field, models.CharField):
            wanted |= Q(**{f"{name}__icontains": search})
        elif isinstance(target, type) and any(each.name == "code" for each in target._meta.fields):
            wanted |= Q(**{f"{name}__code__icontains": search}) | Q(**{f"{name}__name__icontains": search})
    return rows.filter(wanted).distinct() if wanted else rows


def _inner(table: SiteTable, row: models.Model) -> list[SiteTable]:
    """The tables whose rows belong to rows of this one."""
    return [
        each for each in SITE_TABLES.values()
        if each.within and _target(each) is type(row)
    ]  # fmt: skip


def _target(table: SiteTable) -> Any:
    return noun_model(table.noun)._meta.get_field(table.within).related_model


def _within(here: Here, table: SiteTable, row: models.Model) -> tuple[Listed, str]:
    """The rows of an inner table that belong to the row, and the address of a new one."""
    rows = _rows(here, table).filter(**{table.within: row})
    adding = reverse(f"table_{table.noun}_add", args=[here.site.code])
    return listed_of(here, table, rows[:200], but=table.within), f"{adding}?{table.within}={row.pk}"


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError as fault:
        raise InvalidValueError(_("Choose a day.")) from fault
