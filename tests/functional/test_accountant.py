"""An accountant's morning: the month, one tyre's comparison, a changed assumption, an import with a fault."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect
from pytest_django.live_server_helper import LiveServer

from planner.costing.assumptions import Assumption
from planner.costing.lines import CostKind
from planner.domain.permissions import Role
from planner.models import CostOutcome
from planner.services.accounts.costs import actual_book, use_record
from tests.lib.books import Books, books, done, order_add

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(name="found")
def _found() -> Books:
    found = books()
    done(found)
    use_record(
        user=found.people[Role.SUPERVISOR], work_order=found.order, kind=CostKind.MATERIAL,
        item="repair rubber", quantity=Decimal(2), evidence="lot 7",
    )  # fmt: skip
    actual_book(user=found.accountant, work_order=found.order)
    order_add(found.site, found.accountant, 2)
    CostOutcome.objects.create(
        site=found.site, serial="R1", zone="sidewall", size_class="large", repaired_on=date(2025, 1, 1),
        hours=900, failed=False,
    )  # fmt: skip
    return found


def _no_barriers(page: Page) -> None:
    results = Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_a_morning_with_the_books(
    found: Books, live_server: LiveServer, sign_in: Callable[[Any], Page], tmp_path: Path
) -> None:
    page = sign_in(found.accountant)
    page.goto(f"{live_server.url}/at/gum-creek/accounts/")
    expect(page.get_by_role("heading", name="October 2026")).to_be_visible()
    _no_barriers(page)
    page.get_by_role("link", name="Every repair of the month").click()
    expect(page.get_by_role("link", name="WO-0001")).to_be_visible()
    _no_barriers(page)
    page.get_by_role("link", name="WO-0001").click()
    expect(page.get_by_text("skive, fitter").first).to_be_visible()
    _no_barriers(page)
    page.get_by_role("link", name="Repair or new").click()
    page.get_by_role("link", name="WO-0002").click()
    expect(page.get_by_role("heading", name="Advice")).to_be_visible()
    _no_barriers(page)
    page.get_by_role("link", name="Lives").click()
    expect(page.get_by_role("cell", name="the assumption").first).to_be_visible()
    _no_barriers(page)


def test_a_price_is_entered_by_hand(
    found: Books, live_server: LiveServer, sign_in: Callable[[Any], Page]
) -> None:
    page = sign_in(found.accountant)
    page.goto(f"{live_server.url}/at/gum-creek/accounts/books/")
    page.get_by_text("Enter one row by hand").click()
    expect(page.get_by_role("button", name="Enter it")).to_be_visible()
    _no_barriers(page)
    page.get_by_label("Kind").select_option("labour")
    told = {
        "Item": "fitter", "Unit": "h", "Amount": "45,5", "Currency": "AUD", "Effective from": "2026-11-01",
        "Source": "agreement", "Reason": "pay round",
    }  # fmt: skip
    for label, text in told.items():
        page.get_by_label(label, exact=True).fill(text)
    page.get_by_role("button", name="Enter it").click()
    expect(page.get_by_text("is no number, such as 1234.50")).to_be_visible()
    _no_barriers(page)
    page.get_by_label("Amount", exact=True).fill("45.5")
    page.get_by_role("button", name="Enter it").click()
    expect(page.get_by_text("It is in the books.")).to_be_visible()


def test_an_assumption_is_weighed_before_it_is_signed(
    found: Books, live_server: LiveServer, sign_in: Callable[[Any], Page]
) -> None:
    page = sign_in(found.accountant)
    page.goto(f"{live_server.url}/at/gum-creek/accounts/assumptions/")
    _no_barriers(page)
    page.get_by_label("Assumption", exact=True).select_option(Assumption.LEAD_TIME)
    page.get_by_label("Value").fill("0")
    page.get_by_label("Holds from").fill("2026-11-01")
    page.get_by_label("Reason").fill("the store next door keeps them")
    page.get_by_role("button", name="See what it would change").click()
    expect(page.get_by_role("link", name="WO-0002")).to_be_visible()
    _no_barriers(page)
    page.get_by_role("button", name="Accept and sign").click()
    expect(page.get_by_text("lead time of a new tyre from 2026-11-01: accepted")).to_be_visible()


def test_an_import_says_its_faults(
    found: Books, live_server: LiveServer, sign_in: Callable[[Any], Page], tmp_path: Path
) -> None:
    file = tmp_path / "prices.csv"
    file.write_text(
        "kind,item,unit,amount,currency,effective from,source\nlabour,x,h,ten,AUD,2026-11-01,deal\n"
    )
    page = sign_in(found.accountant)
    page.goto(f"{live_server.url}/at/gum-creek/accounts/import/")
    page.get_by_label("What it holds").select_option("prices")
    page.get_by_label("File").set_input_files(file)
    page.get_by_role("button", name="See what it would do").click()
    expect(page.get_by_text("1 fault. Nothing is imported until it is mended.")).to_be_visible()
    expect(page.get_by_text("'ten' is no number, such as 1234.50")).to_be_visible()
    _no_barriers(page)
