"""A month of repairs: how many, what they cost and gained, and why they differ from their estimates."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import Aggregate, Count, Q, QuerySet, Sum

from planner.domain.money import Money, money_of_minor_units
from planner.domain.permissions import Action
from planner.domain.states import WorkOrderState
from planner.models import CostPeriod, CostRepair, CostVariance, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import month_closed, month_of

# What can have cost something: work was done, and it is over.
COSTED_ENDS = frozenset({WorkOrderState.REPAIRED, WorkOrderState.REJECTED})


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairTotals:
    """The sums over some repairs; their arithmetic is exact."""

    repairs: int
    failures: int
    estimate: Money
    actual: Money
    avoided: Money
    hours_gained: int

    @property
    def variance(self) -> Money:
        """Actual less estimate."""
        return self.actual - self.estimate

    @property
    def cost_per_hour(self) -> Money | None:
        """What an hour gained did cost, rounded; None where none was gained."""
        return (self.actual / self.hours_gained).rounded() if self.hours_gained else None

    @property
    def failure_share(self) -> Decimal | None:
        """The share of repairs that failed; None where there was none [1]."""
        return Decimal(self.failures) / self.repairs if self.repairs else None


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountMonth:
    """The totals of a month, and its variance by cause; the causes add up to the variance."""

    month: date
    totals: RepairTotals
    causes: tuple[tuple[str, Money], ...]
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthTotals:
    """The sums of one month among others."""

    month: date
    totals: RepairTotals
    closed: bool


def booked_repairs(*, user: User, site: Site, month: date | None = None) -> QuerySet[CostRepair]:
    """The repairs whose actual is booked, in one month or in all, with order, tyre and injuries."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    rows = CostRepair.objects.filter(site=site, month__isnull=False)
    return rows if month is None else rows.filter(month=month_of(month))


_SUMS: Mapping[str, Aggregate] = {
    "repairs": Count("pk"),
    "failures": Count("pk", filter=Q(failed=True)),
    "estimate": Sum("estimate_minor", default=0),
    "actual": Sum("actual_minor", default=0),
    "avoided": Sum("avoided_minor", default=0),
    "hours": Sum("hours_gained", default=0),
}


def totals_get(rows: QuerySet[CostRepair], currency: str) -> RepairTotals:
    """The sums over the rows, in one query."""
    return _totals(rows.order_by().aggregate(**_SUMS), currency)


def _totals(sums: Mapping[str, Any], currency: str) -> RepairTotals:
    return RepairTotals(
        repairs=sums["repairs"],
        failures=sums["failures"],
        estimate=money_of_minor_units(sums["estimate"], currency),
        actual=money_of_minor_units(sums["actual"], currency),
        avoided=money_of_minor_units(sums["avoided"], currency),
        hours_gained=sums["hours"],
    )


def account_month_get(
    *, user: User, site: Site, month: date, months: Sequence[MonthTotals] | None = None
) -> AccountMonth:
    """The month as the accountant reads it; `months`, where they were read already, save a second reading."""
    rows = booked_repairs(user=user, site=site, month=month)
    known = {each.month: each.totals for each in months or ()}
    if months is None:
        known[month_of(month)] = totals_get(rows, site.currency)
    causes = (
        CostVariance.objects.filter(site=site, month=month_of(month))
        .order_by("cause")
        .values_list("cause")
        .annotate(Sum("amount_minor"))
    )
    return AccountMonth(
        month=month_of(month),
        totals=known.get(month_of(month)) or _totals(dict.fromkeys(_SUMS, 0), site.currency),
        causes=tuple((cause, money_of_minor_units(units, site.currency)) for cause, units in causes),
        closed=month_closed(site=site, day=month),
    )


def unbooked_orders(*, user: User, site: Site) -> QuerySet[WorkOrder]:
    """The repairs that ended, well or not, and whose actual cost is not booked yet."""
    require_on_site(user=user, site=site, action=Action.MONEY_READ)
    ended = WorkOrder.objects.filter(site=site, state__in=COSTED_ENDS, stage_runs__isnull=False).distinct()
    return ended.exclude(cost__month__isnull=False).order_by("number")


def booked_months(*, user: User, site: Site) -> list[date]:
    """The months that have repairs, the latest first."""
    months = (
        booked_repairs(user=user, site=site).order_by("-month").values_list("month", flat=True).distinct()
    )
    return [month for month in months if month is not None]


def month_totals_get(*, user: User, site: Site) -> list[MonthTotals]:
    """Every month that has repairs with its sums, the latest first, in two queries."""
    rows = booked_repairs(user=user, site=site).order_by("-month").values("month").annotate(**_SUMS)
    closed = set(CostPeriod.objects.filter(site=site).values_list("month", flat=True))
    return [
        MonthTotals(month=month, totals=_totals(sums, site.currency), closed=month in closed)
        for sums in rows
        if (month := sums["month"]) is not None
    ]
