"""The demo site's books: every open tyre compares, every past month adds up, and so does the export."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from django.test import Client

from planner.domain.money import money_sum
from planner.engineering.life_records import LifeBasis, LifeMeasure
from planner.models import CostOutcome, CostRepair, Site, StageRun, User, WorkOrder
from planner.selectors.accounts.comparisons import compared
from planner.selectors.accounts.desk import desk_get
from planner.selectors.accounts.life_groups import life_groups_get
from planner.selectors.accounts.months import AccountMonth, account_month_get, booked_months
from tests.lib.sheet_sums import totals_worked_out

TODAY = date(2026, 11, 25)


def test_the_demos_books(client: Client, demo_loaded: Callable[[date], None]) -> None:
    # One for all: working out every month and every open tyre takes seconds.
    demo_loaded(TODAY)
    site, accountant = Site.objects.get(code="halfmoon"), User.objects.get(username="amos")
    months = booked_months(user=accountant, site=site)
    found = [account_month_get(user=accountant, site=site, month=month) for month in months]
    _months_add_up(site, found)
    _exports_add_up(client, accountant, found)
    _history_is_believable(site)
    for code in ("halfmoon", "cardon"):
        _every_open_tyre_compares(Site.objects.get(code=code))
    _lives_are_pooled_where_records_are_few(accountant, site)


def _months_add_up(site: Site, found: Sequence[AccountMonth]) -> None:
    booked = CostRepair.objects.filter(site=site, month__isnull=False)
    assert sum(month.totals.repairs for month in found) == booked.count() == 96
    assert sum(month.totals.failures for month in found) == booked.filter(failed=True).count() == 11
    for month in found:
        assert money_sum((amount for _, amount in month.causes), "AUD") == month.totals.variance
        assert month.totals.actual.amount > 0
    causes = {cause for month in found for cause, _ in month.causes}
    assert {"efficiency", "mix", "outcome", "overtime", "price", "rate", "usage"} <= causes


def _exports_add_up(client: Client, accountant: User, found: Sequence[AccountMonth]) -> None:
    """The sums of the workbook, worked out from its cells, are the page's."""
    client.force_login(accountant)
    raw = client.get("/at/halfmoon/accounts/repairs.xlsx").content
    page = client.get("/at/halfmoon/accounts/repairs/").content.decode().split("<tfoot>")[1]
    sums = totals_worked_out(raw)
    names = {"Estimate (AUD)": "estimate", "Actual (AUD)": "actual", "Variance (AUD)": "variance"}
    for heading, name in (names | {"Avoided (AUD)": "avoided"}).items():
        assert sums[heading] == money_sum((getattr(month.totals, name) for month in found), "AUD").amount
        assert f">{sums[heading]:,.2f}</td>" in page
    assert sums["Hours"] == sum(month.totals.hours_gained for month in found)


def _history_is_believable(site: Site) -> None:
    runs = StageRun.objects.filter(site=site, work_order__tyre__serial__startswith="HT-P")
    assert set(runs.values_list("technicians__code", flat=True)) >= {"T1", "T2", "T3", "T4", "T5", "T6"}
    assert set(runs.values_list("heater_set__code", flat=True)) >= {f"H{number}" for number in range(1, 9)}
    since = CostOutcome.objects.filter(site=site, serial__startswith="HT-P")
    assert since.filter(failed=False).count() > since.filter(failed=True).count() > 20


def _every_open_tyre_compares(site: Site) -> None:
    orders = WorkOrder.objects.filter(site=site, closed_at__isnull=True)
    # Nobody repairs a bead here: the site has no route for it.
    repairable = [order for order in orders if order.damages.exclude(zone="bead").exists()]
    desk = desk_get(site=site)
    assert len(repairable) >= orders.count() - 1
    assert {compared(order, desk).advice.leaning for order in repairable}


def _lives_are_pooled_where_records_are_few(accountant: User, site: Site) -> None:
    rows = life_groups_get(user=accountant, site=site, measure=LifeMeasure.HOURS)
    bases = {(row.zone, row.size_class): row.life.basis for row in rows}
    assert bases["sidewall", "large"] is LifeBasis.ZONE_AND_SIZE
    assert bases["crown", "medium"] is LifeBasis.ZONE
    order = WorkOrder.objects.filter(site=site, tyre__size="27.00R49", closed_at__isnull=True)[0]
    distances = compared(order, desk_get(site=site)).distances
    assert distances is not None
    assert Decimal(10) < distances.speed < Decimal(14)
    assert not distances.life.assumed
