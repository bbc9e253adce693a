"""Life after repair on its page and in a comparison: by hours and, where it is recorded, by distance."""

from datetime import date
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from planner.costing.assumptions import Assumption
from planner.domain.injury import Zone
from planner.models import CostOutcome, CostPrice, Damage, SizeClass
from planner.selectors.accounts.comparisons import repair_comparison_get
from planner.selectors.accounts.desk import desk_get
from planner.selectors.accounts.lives import life_records_get
from planner.selectors.accounts.ways import weakest_of
from tests.lib.books import Books, assumption_add, books

pytestmark = pytest.mark.django_db


@pytest.fixture(name="found")
def _found() -> Books:
    found = books()
    SizeClass.objects.create(
        site=found.site, code="large", name="Large", smallest_rim_inch=39, largest_rim_inch=63
    )
    return found


def records(found: Books, zone: Zone, count: int, *, km: bool, first: int = 1000) -> None:
    """So many tyres that failed after 1000, 1100, … hours at 12 km/h."""
    CostOutcome.objects.bulk_create(
        CostOutcome(
            site=found.site, serial=f"{zone}{place}", zone=zone, size_class="large",
            repaired_on=date(2025, 1, 1), hours=first + 100 * place,
            distance_km=12 * (first + 100 * place) if km else None, failed=True,
        )
        for place in range(count)
    )  # fmt: skip


def test_by_distance_where_the_site_records_it(found: Books) -> None:
    records(found, Zone.SIDEWALL, 10, km=True)
    result = repair_comparison_get(user=found.accountant, site=found.site, number=1)
    assert result.distances is not None
    assert result.distances.speed == 12
    repair, new = result.distances.ways
    assert float(repair.km) == pytest.approx(12 * float(result.comparison.options[0].hours), rel=0.01)
    # 92000 over 8000 h at 12 km/h: 0.95833 a kilometre.
    assert (new.km, new.per_1000_km.rounded().amount) == (96000, Decimal("958.33"))


def test_without_distances_there_is_nothing_by_distance(found: Books, client: Client) -> None:
    records(found, Zone.SIDEWALL, 10, km=False)
    assert repair_comparison_get(user=found.accountant, site=found.site, number=1).distances is None
    client.force_login(found.accountant)
    page = client.get(reverse("accounts_lives", args=["gum-creek"]), {"by": "km"}).content.decode()
    assert "Nothing is recorded by this measure" in page


def test_the_page_says_whose_records_speak(found: Books, client: Client) -> None:
    records(found, Zone.SIDEWALL, 9, km=True)
    records(found, Zone.CROWN, 2, km=True)
    client.force_login(found.accountant)
    page = client.get(reverse("accounts_lives", args=["gum-creek"])).content.decode()
    assert "records of the same zone and size class" in page
    assert "records of the same size class, all zones together" in page
    assert page.count("<svg") >= 2
    assert page.count("<table") == 1 + page.count('class="steps"')


def test_the_weakest_injury_bounds_the_tyre(found: Books) -> None:
    records(found, Zone.SIDEWALL, 10, km=False)
    records(found, Zone.SHOULDER, 10, km=False, first=300)
    desk, held = desk_get(site=found.site), life_records_get(site=found.site)
    assert weakest_of(found.order, desk, held).zone == Zone.SIDEWALL
    first = found.order.damages.get()
    Damage.objects.create(
        site=found.site, tyre=first.tyre, work_order=found.order, zone=Zone.SHOULDER, length_mm=50,
        width_mm=50, depth_mm=20, noted_at=first.noted_at, noted_by=first.noted_by,
    )  # fmt: skip
    assert weakest_of(found.order, desk, held).zone == Zone.SHOULDER


def test_sending_out_and_retreading_have_their_own_times_and_life(found: Books) -> None:
    for kind in ("send out", "retread"):
        CostPrice.objects.create(
            site=found.site, kind=kind, item="27.00R49", unit="tyre", amount=9000, currency="AUD",
            effective_from=date(2024, 1, 1), source="quote",
        )  # fmt: skip
    assumed = {"SEND_OUT_TIME": "300", "RETREAD_TIME": "800", "RETREAD_LIFE": "5000"}
    for name, value in assumed.items():
        assumption_add(found.site, found.accountant, Assumption[name], value)
    found.order.tyre.tread_depth_mm = Decimal(20)  # 10 mm at 5 mm per 1000 h: 2000 h
    found.order.tyre.save()
    result = repair_comparison_get(user=found.accountant, site=found.site, number=1)
    ways = {option.kind.value: option for option in result.comparison.options}
    assert (ways["send out"].wait_hours, ways["retread"].wait_hours) == (300, 800)
    assert ways["send out"].hours == ways["repair now"].hours < 2000
    assert ways["retread"].hours == 5000
