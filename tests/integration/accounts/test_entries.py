"""Entering a row of the books by hand: dated, with author and reason, by the rules of an import."""

from datetime import date
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from planner.domain.errors import InvalidValueError, NotAllowedError
from planner.domain.permissions import Role
from planner.models import AuditEvent, CostOutcome, CostPrice, CostRate, CostStock
from planner.services.accounts.entries import entry_record
from planner.services.accounts.periods import period_close
from tests.lib.books import Books, books

pytestmark = pytest.mark.django_db
WAGE = {
    "kind": "labour", "item": "fitter", "unit": "h", "amount": "45.50", "currency": "AUD", "loading": "0.25",
    "overtime_factor": "1.5", "effective_from": "2026-11-01", "source": "agreement",
}  # fmt: skip


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


@pytest.fixture(name="accountant")
def _accountant(found: Books, client: Client) -> Client:
    client.force_login(found.accountant)
    return client


def send(client: Client, book: str, **told: str) -> str:
    address = reverse("accounts_entries", args=["gum-creek", book])
    return client.post(address, told, follow=True).content.decode()


def test_a_price_is_entered_with_author_and_reason(found: Books, accountant: Client) -> None:
    page = send(accountant, "prices", **WAGE, reason="pay round of November")
    assert "It is in the books." in page
    row = CostPrice.objects.get(kind="labour", effective_from=date(2026, 11, 1))
    assert (row.amount, row.author, row.reason) == (45.5, found.accountant, "pay round of November")
    assert f"{found.accountant}: pay round of November" in page
    event = AuditEvent.objects.get()
    assert (event.action, event.why) == ("entry_record", "pay round of November")
    # The earlier one stays on file and no longer holds.
    assert CostPrice.objects.filter(kind="labour", item="fitter").count() == 2
    assert page.count('<tr class="past">') == 1
    assert "It is there already." in send(accountant, "prices", **WAGE, reason="again")
    assert AuditEvent.objects.count() == 1


def test_rates_and_stock_are_entered_too(found: Books, accountant: Client) -> None:
    send(
        accountant, "rates", kind="exchange", name="usd", rate="1.5", effective_from="2026-11-01",
        source="bank", reason="month's rate",
    )  # fmt: skip
    assert (CostRate.objects.get().name, CostRate.objects.get().rate) == ("USD", Decimal("1.5"))
    send(accountant, "stock", size="27.00 r 49", on_hand="3", counted_on="2026-11-20", reason="counted")
    row = CostStock.objects.get()
    assert (row.size, row.on_hand, row.counted_on) == ("27.00R49", 3, date(2026, 11, 20))
    send(
        accountant, "outcomes", serial="A1", zone="sidewall", size_class="large", repaired_on="2026-01-05",
        hours="900", failed="no", reason="came off for wear",
    )  # fmt: skip
    assert CostOutcome.objects.get().failed is False


def test_faults_stand_on_their_fields_and_nothing_is_written(found: Books, accountant: Client) -> None:
    before = CostPrice.objects.count()
    page = send(accountant, "prices", **(WAGE | {"amount": "45,50", "unit": "day"}), reason="told")
    assert "is no number, such as 1234.50" in page
    assert "a price of labour is for one h, not for &#x27;day&#x27;" in page
    assert 'value="45,50"' in page
    period_close(user=found.accountant, site=found.site, month=date(2026, 9, 1))
    page = send(accountant, "prices", **(WAGE | {"effective_from": "2026-09-30"}), reason="told")
    assert "September 2026 is closed" in page
    assert CostPrice.objects.count() == before


def test_a_reason_and_the_right_to_change_money_are_needed(found: Books, client: Client) -> None:
    cells = {name.replace("_", " "): cell for name, cell in WAGE.items()}
    with pytest.raises(InvalidValueError, match="needs a reason"):
        entry_record(user=found.accountant, site=found.site, kind="prices", cells=cells, reason=" ")
    with pytest.raises(NotAllowedError):
        entry_record(
            user=found.people[Role.SUPERVISOR], site=found.site, kind="prices", cells=cells, reason="told"
        )
    client.force_login(found.people[Role.SUPERVISOR])
    page = client.get(reverse("accounts_books", args=["gum-creek"])).content.decode()
    assert "price list" in page
    assert "Enter it" not in page
    assert client.get(reverse("accounts_entries", args=["gum-creek", "songs"])).status_code == 404


def test_a_correction_keeps_what_was(found: Books) -> None:
    cells = {name.replace("_", " "): cell for name, cell in WAGE.items()} | {"effective from": "2024-01-01"}
    entry_record(user=found.accountant, site=found.site, kind="prices", cells=cells, reason="typing error")
    (change,) = AuditEvent.objects.get().details["changed"]
    assert (change["before"]["amount"], change["after"]["amount"]) == ("40.0000", "45.50")
