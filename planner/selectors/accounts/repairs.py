"""The list of repairs with their costs, filtered, and one of them opened to its entries."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Exists, OuterRef, Q, QuerySet

from planner.costing.lines import CostSheet
from planner.costing.variance import Variance, variances
from planner.domain.errors import NotFoundError
from planner.domain.money import Money, money_of_minor_units
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CostRepair, CostVariance, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.months import booked_repairs
from planner.selectors.accounts.sheets import FigureRow, figure_rows, sheet_of


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairFilter:
    """What the reader wants to see; empty shows all that is booked."""

    month: date | None = None
    zone: str = ""
    size: str = ""
    failed: bool | None = None
    search: str = ""
    cause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairRow:
    """One repair with its amounts as money."""

    repair: CostRepair
    estimate: Money
    actual: Money
    avoided: Money

    @property
    def variance(self) -> Money:
        """Actual less estimate."""
        return self.actual - self.estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairBooks:
    """Both sheets of one repair, opened, and why they differ."""

    row: RepairRow
    estimate: list[FigureRow]
    actual: list[FigureRow]
    variances: tuple[Variance, ...]


def repair_list(*, user: User, site: Site, wanted: RepairFilter) -> QuerySet[CostRepair]:
    """The booked repairs that match, the latest first; tyre and injuries come along."""
    rows = booked_repairs(user=user, site=site, month=wanted.month)
    if wanted.zone:
        rows = rows.filter(work_order__damages__zone=wanted.zone).distinct()
    if wanted.size:
        rows = rows.filter(work_order__tyre__size__icontains=wanted.size)
    if wanted.cause:
        rows = rows.filter(Exists(CostVariance.objects.filter(repair=OuterRef("pk"), cause=wanted.cause)))
    if wanted.failed is not None:
        rows = rows.filter(failed=wanted.failed)
    for word in wanted.search.split():
        found = Q(work_order__tyre__serial__icontains=word)
        digits = word.upper().removeprefix("WO-")
        if digits.isdecimal() and len(digits) < 10:
            found |= Q(work_order__number=int(digits))
        rows = rows.filter(found)
    rows = rows.select_related("site", "work_order__tyre").prefetch_related("work_order__damages")
    return rows.order_by("-month", "-work_order__number")


def repair_row(repair: CostRepair, currency: str) -> RepairRow:
    """A repair with its amounts as money."""
    return RepairRow(
        repair=repair,
        estimate=money_of_minor_units(repair.estimate_minor, currency),
        actual=money_of_minor_units(repair.actual_minor, currency),
        avoided=money_of_minor_units(repair.avoided_minor, currency),
    )


def repair_books_get(*, user: User, site: Site, number: int) -> RepairBooks:
    """Everything booked for one work order; NotFoundError where nothing is."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    repairs = CostRepair.objects.filter(site=site, work_order__number=number)
    repair = repairs.select_related("site", "work_order__tyre").first()
    if repair is None:
        raise NotFoundError(
            _("nothing is booked for work order {number} on {site}", number=number, site=site)
        )
    estimate = sheet_of(repair.estimate_lines, site.currency)
    actual = sheet_of(repair.actual_lines, site.currency)
    return RepairBooks(
        row=repair_row(repair, site.currency),
        estimate=_opened(estimate, "estimate"),
        actual=_opened(actual, "actual"),
        variances=variances(estimate, actual) if repair.month else (),
    )


def _opened(sheet: CostSheet, label: str) -> list[FigureRow]:
    return figure_rows(sheet.figure(label)) if sheet.lines else []
