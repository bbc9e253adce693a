"""The booked repairs: the list with its totals, one repair opened, and the export."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.selectors.accounts.months import totals_get
from planner.selectors.accounts.repairs import repair_books_get, repair_list, repair_row
from planner.selectors.accounts.spreadsheet import repairs_csv, repairs_xlsx
from planner.web.accounts.repair_filter import RepairFilterForm
from planner.web.files.answers import file_answer
from planner.web.here import Here, show, site_page

ROWS_ON_A_PAGE = 50
_WRITERS = {"csv": repairs_csv, "xlsx": repairs_xlsx}


@site_page(Action.MONEY_READ)
def repairs(request: HttpRequest, here: Here) -> HttpResponse:
    """The repairs that match, in pages, with the totals over all of them."""
    form = RepairFilterForm(request.GET or None)
    rows = repair_list(user=here.user, site=here.site, wanted=form.wanted())
    page = Paginator(rows, ROWS_ON_A_PAGE).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    return show(
        request, here, "accounts/repairs.html", "accounts", form=form, page=page, query=query.urlencode(),
        rows=[repair_row(row, here.site.currency) for row in page.object_list],
        totals=totals_get(rows, here.site.currency),
    )  # fmt: skip


@site_page(Action.MONEY_READ)
def repair(request: HttpRequest, here: Here, number: int) -> HttpResponse:
    """One repair down to its entries."""
    found = repair_books_get(user=here.user, site=here.site, number=number)
    return show(request, here, "accounts/repair.html", "accounts", found=found)


@site_page(Action.MONEY_READ)
def export(request: HttpRequest, here: Here, kind: str) -> HttpResponse:
    """The repairs that match as a spreadsheet; its totals are the page's."""
    if kind not in _WRITERS:
        raise NotFoundError(_("Repairs are exported as csv or as xlsx."))
    wanted = RepairFilterForm(request.GET or None).wanted()
    found = repair_list(user=here.user, site=here.site, wanted=wanted)
    rows = (repair_row(row, here.site.currency) for row in found.iterator(chunk_size=2000))
    return file_answer(_WRITERS[kind](rows, here.site.currency), f"repairs-{here.site.code}.{kind}")
