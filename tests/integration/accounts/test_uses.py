"""Recording what a repair took, on its page."""

import re
from datetime import date
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from planner.costing.lines import CostKind
from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Role
from planner.models import CostPrice, CostUse, Material, MaterialLot, MaterialUse, ZoneCure
from planner.selectors.accounts.sheets import actual_get, estimate_get
from planner.services.accounts.costs import actual_book
from tests.lib.books import Books, books, done

pytestmark = pytest.mark.django_db


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


@pytest.fixture(name="technician")
def _technician(found: Books, client: Client) -> Client:
    client.force_login(found.people[Role.TECHNICIAN])
    return client


def fill(found: Books, unit: str = "kg") -> MaterialLot:
    """A lot of 12 kg that never expires."""
    material = Material.objects.create(site=found.site, code="fill-f2", name="Fill", unit=unit)
    return MaterialLot.objects.create(
        site=found.site, material=material, code="L7", received_on=date(2026, 1, 1),
        expires_on=date(2999, 1, 1), quantity=12,
    )  # fmt: skip


def price_of_fill(found: Books) -> None:
    """30 a kilogram."""
    CostPrice.objects.create(
        site=found.site, kind="materials", item="fill-f2", unit="kg", amount=30, currency="AUD",
        effective_from=date(2024, 1, 1), source="list",
    )  # fmt: skip


def send(client: Client, form: str, **values: object) -> str:
    sent = {"form": form} | {f"{form}-{name}": value for name, value in values.items()}
    address = reverse("work_order_use", args=["gum-creek", 1])
    return client.post(address, sent, follow=True).content.decode()


def test_meter_trips_and_lots_are_recorded(found: Books, technician: Client) -> None:
    lot = fill(found)
    assert "meter from 100.5 to 130.5" in send(technician, "meter", before="100.5", after="130.5")
    assert "trip" in send(technician, "count", kind="transport", quantity="2")
    assert "lot L7" in send(technician, "lot", lot=lot.pk, quantity="1.25")
    counted = set(CostUse.objects.values_list("kind", "item", "quantity"))
    assert counted == {("energy", "electricity", Decimal(30)), ("transport", "trip", Decimal(2))}
    assert MaterialUse.objects.get().quantity == Decimal("1.25")


def test_what_cannot_be_is_told_on_the_page(found: Books, technician: Client) -> None:
    lot = fill(found)
    assert "check the order of the readings" in send(technician, "meter", before="9", after="8")
    assert "has 12 kg left, not 13" in send(technician, "lot", lot=lot.pk, quantity="13")
    assert 'class="fault"' in send(technician, "count", kind="transport", quantity="0")
    assert not CostUse.objects.exists()
    assert not MaterialUse.objects.exists()


def test_after_booking_nothing_is_added(found: Books, technician: Client) -> None:
    done(found)
    actual_book(user=found.accountant, work_order=found.order)
    assert "nothing can be added" in send(technician, "count", kind="transport", quantity="1")


def test_who_records_no_work_only_reads(found: Books, client: Client) -> None:
    client.force_login(found.accountant)
    page = client.get(reverse("work_order_use", args=["gum-creek", 1])).content.decode()
    assert not re.search(r"name=\"form\"", page)
    send(client, "count", kind="transport", quantity="1")
    assert not CostUse.objects.exists()


def test_an_actual_prices_a_lot_by_its_material(found: Books, technician: Client) -> None:
    lot = fill(found)
    price_of_fill(found)
    send(technician, "lot", lot=lot.pk, quantity="1.5")
    (line,) = actual_get(user=found.accountant, order=found.order).of(CostKind.MATERIAL)
    assert (line.item, line.amount.amount) == ("fill-f2", Decimal("45.00"))


def test_an_estimate_takes_the_material_of_the_injury_before_the_zones(found: Books) -> None:
    cushion = Material.objects.create(site=found.site, code="cushion", name="Cushion")
    ZoneCure.objects.create(site=found.site, zone="sidewall", material=cushion, set_kind="pads")
    found.order.damages.update(material=fill(found).material)
    price_of_fill(found)
    (line,) = estimate_get(user=found.accountant, order=found.order).of(CostKind.MATERIAL)
    # 1 litre at 1.5 kg.
    assert (line.item, line.amount.amount) == ("fill-f2", Decimal("45.00"))
    found.order.damages.update(material=None)
    with pytest.raises(InvalidValueError, match="no price of materials cushion"):
        estimate_get(user=found.accountant, order=found.order)
