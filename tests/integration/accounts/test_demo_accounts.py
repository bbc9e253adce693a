"""The demo site's books: every open tyre compares or says why not, and every past month adds up."""

from datetime import date

import pytest

from planner.domain.money import money_sum
from planner.models import CostRepair, Site, User, WorkOrder
from planner.selectors.accounts.comparisons import compared
from planner.selectors.accounts.desk import desk_get
from planner.selectors.accounts.months import account_month_get, booked_months
from planner.services.demo_site.load import demo_site_load

pytestmark = pytest.mark.django_db
TODAY = date(2026, 11, 25)


@pytest.fixture(name="site")
def _site() -> Site:
    demo_site_load(today=TODAY)
    return Site.objects.get(code="halfmoon")


def test_months_add_up_and_show_failures(site: Site) -> None:
    accountant = User.objects.get(username="amos")
    months = booked_months(user=accountant, site=site)
    found = [account_month_get(user=accountant, site=site, month=month) for month in months]
    assert len(found) >= 12
    assert (
        sum(month.totals.repairs for month in found)
        == CostRepair.objects.filter(site=site, month__isnull=False).count()
        == 96
    )
    assert sum(month.totals.failures for month in found) == 11
    for month in found:
        assert money_sum((amount for _, amount in month.causes), "AUD") == month.totals.variance
        assert month.totals.actual.amount > 0


@pytest.mark.parametrize("code", ["halfmoon", "cardon"])
def test_every_open_tyre_with_an_injury_compares(site: Site, code: str) -> None:
    desk = desk_get(site=Site.objects.get(code=code))
    orders = WorkOrder.objects.filter(site=desk.site, closed_at__isnull=True)
    # Nobody repairs a bead here: the site has no route for it.
    repairable = [order for order in orders if order.damages.exclude(zone="bead").exists()]
    leanings = {compared(order, desk).advice.leaning for order in repairable}
    assert len(repairable) >= orders.count() - 1
    assert leanings


def test_a_life_rests_on_the_sites_records(site: Site) -> None:
    order = WorkOrder.objects.filter(site=site, tyre__size="27.00R49", closed_at__isnull=True).first()
    assert order is not None
    assert not compared(order, desk_get(site=site)).life.assumed
