"""The accountant's pages: who sees them, what they say, and exports whose totals are the pages'."""

import csv
import io
import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from openpyxl import load_workbook
from pytest_django import DjangoAssertNumQueries

from planner.costing.assumptions import Assumption
from planner.domain.injury import Zone
from planner.domain.permissions import Role
from planner.models import CostAssumption, CostOutcome, CostPeriod, CostPrice, CostRepair, CostVariance
from planner.selectors.accounts.spreadsheet import repairs_xlsx
from planner.services.accounts.costs import actual_book, estimate_book
from tests.lib.books import Books, books, done, order_add
from tests.lib.sheet_sums import totals_worked_out

pytestmark = pytest.mark.django_db
Reader = Callable[..., str]


@pytest.fixture(name="found")
def _found() -> Books:
    return books()


@pytest.fixture(name="accountant")
def _accountant(found: Books, client: Client) -> Client:
    client.force_login(found.accountant)
    return client


def address(name: str, *more: object) -> str:
    return reverse(name, args=["gum-creek", *more])


def read(client: Client, name: str, *more: object, **query: str) -> str:
    response = client.get(address(name, *more), query)
    assert response.status_code == 200
    return response.content.decode()


def booked(found: Books, count: int, first: int = 100) -> None:
    """So many booked repairs of October 2026, each with its own cents."""
    for number in range(first, first + count):
        order = order_add(found.site, found.accountant, number)
        order.tyre.serial = f"=SUM({number})"
        order.tyre.save()
        repair = CostRepair.objects.create(
            site=found.site, work_order=order, month=date(2026, 10, 1), estimate_minor=100_000 + number,
            actual_minor=120_033 + 7 * number, avoided_minor=2_000_000, hours_gained=3000,
            failed=number % 2 == 1,
        )  # fmt: skip
        CostVariance.objects.create(
            site=found.site, repair=repair, month=date(2026, 10, 1), cause="usage",
            amount_minor=repair.actual_minor - repair.estimate_minor,
        )  # fmt: skip


def test_a_month_known_to_the_cent(found: Books, accountant: Client) -> None:
    booked(found, 3)
    # Numbers 100, 101, 102: estimates 3003.03, actuals 3 × 1200.33 + 7 × 3.03 = 3622.20.
    page = read(accountant, "accounts")
    for words in ("October 2026", "AUD 3,003.03", "AUD 3,622.20", "AUD 619.17", "AUD 60,000.00", "9,000 h"):
        assert words in page
    assert "AUD 0.40" in page  # 3622.20 / 9000 h
    assert "1</a> (33 %)" in page


def test_an_export_adds_up_to_the_page(found: Books, accountant: Client) -> None:
    booked(found, 3)
    page = read(accountant, "accounts_repairs")
    raw = accountant.get(address("accounts_export", "xlsx")).content
    sheet = load_workbook(io.BytesIO(raw)).worksheets[0]
    assert sheet.freeze_panes == "A2"
    expected = ("3003.03", "3622.20", "619.17", "60000.00", "9000")
    assert list(totals_worked_out(raw).values()) == [Decimal(total) for total in expected]
    for total in expected:
        assert f">{Decimal(total):,}</td>" in page.split("<tfoot>")[1]
    rows = list(sheet.iter_rows(min_row=2, max_row=4))
    assert {row[1].value for row in rows} == {f"'=SUM({number})" for number in (100, 101, 102)}
    assert {row[1].data_type for row in rows} == {"s"}
    assert [cell.number_format for cell in sheet[5]][6:] == ["#,##0.00"] * 4 + ["#,##0"]
    lines = list(csv.reader(io.StringIO(accountant.get(address("accounts_export", "csv")).content.decode())))
    assert lines[-1][6:] == ["3003.03", "3622.20", "619.17", "60000.00", "9000"]
    assert lines[1][1].startswith("'=")


def test_an_export_follows_the_filter(found: Books, accountant: Client) -> None:
    booked(found, 3)
    raw = accountant.get(address("accounts_export", "csv"), {"ended": "failed"}).content.decode()
    assert [line[0] for line in csv.reader(io.StringIO(raw))][1:] == ["WO-0101", "Total"]
    assert accountant.get(address("accounts_export", "pdf")).status_code == 404


def test_a_currency_without_cents_is_shown_without_them() -> None:
    raw = repairs_xlsx([], "CLP")
    assert [cell.number_format for cell in load_workbook(io.BytesIO(raw)).worksheets[0][2]][6:] == [
        "#,##0"
    ] * 5


@pytest.mark.parametrize(
    "name", ["accounts", "accounts_repairs", "accounts_open", "accounts_assumptions", "accounts_books"]
)
def test_a_list_of_three_takes_as_many_queries_as_one(
    name: str, found: Books, accountant: Client, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    booked(found, 1)
    read(accountant, name)
    with CaptureQueriesContext(connection) as one:
        read(accountant, name)
    booked(found, 2, first=201)
    with django_assert_num_queries(len(one)):
        read(accountant, name)


def test_a_repair_opens_to_its_entries(found: Books, accountant: Client) -> None:
    done(found)
    actual_book(user=found.accountant, work_order=found.order)
    page = read(accountant, "accounts_repair", 1)
    for words in (
        "skive, fitter",
        "listed price: 40 AUD per h",
        "AUD 1,198.80",
        "efficiency",
        "price list, from",
    ):
        assert words in page


def test_a_comparison_says_its_advice_and_has_a_table_beside_each_chart(
    found: Books, accountant: Client
) -> None:
    for place in range(10):
        CostOutcome.objects.create(
            site=found.site, serial=f"R{place}", zone=Zone.SIDEWALL, size_class="x",
            repaired_on=date(2025, 1, 1), hours=1000 + 100 * place, failed=True,
        )  # fmt: skip
    page = read(accountant, "accounts_comparison", 1)
    assert "The figures lean to repairing" in page
    assert page.count('<svg class="chart"') == 3
    for part in page.split('<svg class="chart"')[1:]:
        assert 'role="img" aria-label="' in part[:200]
        assert "<table>" in part.split("</section>")[0]
    assert "style=" not in page
    assert not re.search(r"<script(?![^>]*src=)", page)


def test_approving_on_the_page(found: Books, accountant: Client) -> None:
    assert "Approve this spend" in read(accountant, "accounts_comparison", 1)
    accountant.post(address("accounts_approve", 1), {"note": "within the budget"})
    page = read(accountant, "accounts_comparison", 1)
    assert "within the budget" in page
    assert "Approve this spend" not in page


def test_an_assumption_from_proposal_to_signature(found: Books, accountant: Client) -> None:
    told = {"name": Assumption.LEAD_TIME, "value": "0", "effective_from": "2026-11-01", "reason": "a store"}
    response = accountant.post(address("accounts_assumptions"), told)
    row = CostAssumption.objects.get(state="proposed")
    assert response["Location"] == address("accounts_assumption", row.pk)
    page = read(accountant, "accounts_assumption", row.pk)
    assert "WO-0001" in page
    assert "Tried on 1 of the 1 open tyres" in page
    assert "Accept and sign" in page
    accountant.post(address("accounts_decide", row.pk, "accept"))
    row.refresh_from_db()
    assert (row.state, row.decided_by) == ("accepted", found.accountant)


def test_a_refused_proposal_keeps_what_was_typed(found: Books, accountant: Client) -> None:
    told = {"name": Assumption.LEAD_TIME, "value": "-5", "effective_from": "2026-11-01", "reason": "a store"}
    page = accountant.post(address("accounts_assumptions"), told).content.decode()
    assert "must be from 0 to 20000 h, not -5" in page
    assert 'value="a store"' in page


def test_the_shown_month_is_not_among_the_others(found: Books, accountant: Client) -> None:
    booked(found, 2)
    CostRepair.objects.filter(work_order__number=100).update(month=date(2026, 9, 1))
    others = read(accountant, "accounts").partition("Other months")[2]
    assert "September 2026" in others
    assert "October 2026" not in others


def test_a_cause_leads_to_its_repairs(found: Books, accountant: Client) -> None:
    booked(found, 2)
    CostVariance.objects.filter(repair__work_order__number=100).update(cause="price")
    page = read(accountant, "accounts")
    assert "?month=2026-10&amp;cause=price" in page
    listed = read(accountant, "accounts_repairs", month="2026-10", cause="price")
    assert "WO-0100" in listed
    assert "WO-0101" not in listed


def test_todays_estimate_is_booked_again(found: Books, accountant: Client) -> None:
    estimate_book(user=found.accountant, work_order=found.order)
    assert "booked again" not in read(accountant, "accounts_comparison", 1)
    CostPrice.objects.filter(kind="transport").update(amount=Decimal(160))
    page = read(accountant, "accounts_comparison", 1)
    # Two trips at 10 more.
    assert "Today&#x27;s estimate is AUD 1,218.80" in page or "Today's estimate is AUD 1,218.80" in page
    accountant.post(address("accounts_book_again", 1), {"why": "dearer trips"})
    assert CostRepair.objects.get().estimate_minor == 121880
    assert "booked again" not in read(accountant, "accounts_comparison", 1)


def test_open_orders_show_whose_approval_they_wait_for(found: Books, accountant: Client) -> None:
    estimate_book(user=found.accountant, work_order=found.order)
    page = read(accountant, "accounts_open")
    assert "AUD 1,198.80" in page
    assert "1 person missing" in page


def test_an_import_is_previewed_then_confirmed(found: Books, accountant: Client) -> None:
    raw = b"kind,item,unit,amount,currency,effective from,source\nlabour,builder,h,45,AUD,2026-11-01,deal\n"
    upload = {"kind": "prices", "file": SimpleUploadedFile("a.csv", raw)}
    page = accountant.post(address("accounts_import"), upload).content.decode()
    assert "1 rows are new" in page
    assert not CostPrice.objects.filter(item="builder").exists()
    carried = re.search(r'name="carried" value="([^"]+)"', page)
    assert carried is not None
    confirmed = {"confirmed": "yes", "kind": "prices", "name": "a.csv", "carried": carried[1]}
    accountant.post(address("accounts_import"), confirmed)
    assert CostPrice.objects.get(item="builder").amount == 45


def test_faults_of_an_import_are_shown_by_row_and_column(found: Books, accountant: Client) -> None:
    raw = b"kind,item,unit,amount,currency,effective from,source\nlabour,builder,h,x,AUD,2026-11-01,deal\n"
    upload = {"kind": "prices", "file": SimpleUploadedFile("a.csv", raw)}
    page = accountant.post(address("accounts_import"), upload).content.decode()
    assert "is no number, such as 1234.50" in page
    assert "Import all of it" not in page


def test_a_month_is_closed_on_the_page(found: Books, accountant: Client) -> None:
    booked(found, 1)
    accountant.post(address("accounts_close", 2026, 10))
    assert CostPeriod.objects.get().month == date(2026, 10, 1)
    assert "Close the month" not in read(accountant, "accounts")
    assert accountant.get(address("accounts_month", 2026, 13)).status_code == 404


@pytest.mark.parametrize(
    ("role", "status"), [(Role.SUPERVISOR, 200), (Role.PLANNER, 200), (Role.TECHNICIAN, 403), (None, 404)]
)
def test_who_sees_money(found: Books, client: Client, role: Role | None, status: int) -> None:
    estimate_book(user=found.accountant, work_order=found.order)
    if role is None:
        client.force_login(type(found.accountant).objects.create_user("stranger"))
    else:
        client.force_login(found.people[role])
    for name, more in (("accounts", ()), ("accounts_repair", (1,)), ("accounts_comparison", (1,))):
        assert client.get(address(name, *more)).status_code == status


def test_a_supervisor_changes_no_assumption(found: Books, client: Client) -> None:
    client.force_login(found.people[Role.SUPERVISOR])
    told = {"name": Assumption.LEAD_TIME, "value": "0", "effective_from": "2026-11-01", "reason": "a store"}
    client.post(address("accounts_assumptions"), told)
    assert not CostAssumption.objects.filter(state="proposed").exists()
    assert client.get(address("accounts_import")).status_code == 403


def test_what_has_ended_is_booked_on_the_page(found: Books, accountant: Client) -> None:
    done(found)
    assert "1 repair has ended and is not booked" in read(accountant, "accounts")
    page = accountant.post(address("accounts_book"), follow=True).content.decode()
    assert "1 repairs are booked" in page
    assert "not booked" not in page
    assert CostRepair.objects.get().month == date(2026, 10, 1)


def test_a_repair_that_lacks_a_price_is_named_and_left(found: Books, accountant: Client) -> None:
    done(found)
    CostPrice.objects.filter(kind="labour").delete()
    page = accountant.post(address("accounts_book"), follow=True).content.decode()
    assert "WO-0001: no price of labour fitter holds on" in page
    assert not CostRepair.objects.exists()


def test_a_bead_is_advised_against_instead_of_refused(found: Books, accountant: Client) -> None:
    found.order.damages.update(zone=Zone.BEAD)
    page = read(accountant, "accounts_comparison", 1)
    assert "Not to be repaired, whatever it costs" in page
    assert "no route for a bead repair of 27.00R49" in page
    found.order.tyre.repairs_before = 3
    found.order.tyre.save()
    assert "this would be repair 4 and the limit is 3" in read(accountant, "accounts_comparison", 1)


def test_a_missing_price_within_the_limits_is_still_named(found: Books, accountant: Client) -> None:
    CostPrice.objects.filter(kind="transport").delete()
    response = accountant.get(address("accounts_comparison", 1))
    assert response.status_code == 422
    assert b"no price of transport trip" in response.content


def test_what_is_still_to_be_assumed_is_named_and_one_press_from_the_form(
    found: Books, accountant: Client
) -> None:
    before = read(accountant, "accounts_assumptions")
    CostAssumption.objects.filter(site=found.site, name=Assumption.LEAST_TREAD).delete()
    page = read(accountant, "accounts_assumptions")
    link = f'href="?name={Assumption.LEAST_TREAD.value.replace(" ", "%20")}#propose"'
    assert link in page
    assert link not in before
    chosen = accountant.get(address("accounts_assumptions"), {"name": Assumption.LEAST_TREAD.value})
    assert f'<option value="{Assumption.LEAST_TREAD.value}" selected>' in chosen.content.decode()
