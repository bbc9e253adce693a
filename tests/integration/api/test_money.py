"""Money over the API: what an accountant reads is what the books say."""

import pytest

from planner.domain.permissions import Role
from tests.lib.api import Caller, caller, told
from tests.lib.books import Books, books


@pytest.fixture
def kept(db: None) -> Books:
    """A site with prices, assumptions and one damaged tyre."""
    return books()


@pytest.fixture
def accountant(kept: Books) -> Caller:
    """The site's accountant, signed in."""
    return caller(kept.accountant)


ORDER = "sites/gum-creek/work-orders/1/"


def test_the_lines_of_an_estimate_add_up_to_it(accountant: Caller) -> None:
    estimate = told(accountant.get(f"{ORDER}estimate/"))
    cents = [round(float(line["amount"]["amount"]) * 100) for line in estimate["lines"]]
    assert sum(cents) == round(float(estimate["total"]["amount"]) * 100)
    assert {line["amount"]["currency"] for line in estimate["lines"]} == {"AUD"}


def test_a_comparison_has_its_options_and_its_advice(accountant: Caller) -> None:
    found = told(accountant.get(f"{ORDER}comparison/"))
    assert {option["option"] for option in found["options"]} >= {"repair now", "buy new"}
    assert 0 <= found["odds_repair_cheaper"] <= 1
    assert found["advice"]


def test_the_same_person_approves_once(kept: Books, accountant: Caller) -> None:
    first = accountant.post(f"{ORDER}approvals/", {"note": "agreed"})
    second = accountant.post(f"{ORDER}approvals/", {})
    assert (first.status_code, second.status_code) == (201, 409)
    assert told(first)["approver"] == kept.accountant.username


def test_a_month_is_closed_once_and_by_the_accountant(kept: Books, accountant: Caller) -> None:
    month = "sites/gum-creek/months/2024-03/"
    tag = accountant.get(month)["ETag"]
    supervisor = caller(kept.people[Role.SUPERVISOR])
    assert supervisor.post(f"{month}close/", {}, if_match=tag).status_code == 403
    assert told(accountant.post(f"{month}close/", {}, if_match=tag))["closed"] is True
    again = accountant.post(f"{month}close/", {}, if_match="*")
    assert again.status_code == 409


def test_an_assumption_is_proposed_and_signed(accountant: Caller) -> None:
    wanted = {
        "name": "discount rate", "value": "0.08", "effective_from": "2099-01-01", "reason": "bank letter",
    }  # fmt: skip
    row = accountant.post("sites/gum-creek/assumptions/", wanted)
    assert (row.status_code, told(row)["state"]) == (201, "proposed")
    path = f"sites/gum-creek/assumptions/{told(row)['id']}/"
    signed = accountant.patch(path, {"accepted": True}, if_match=row["ETag"])
    assert (told(signed)["state"], told(signed)["decided_by"]) == ("accepted", "accountant-gum-creek")
    beyond = accountant.post("sites/gum-creek/assumptions/", {**wanted, "value": "7"})
    assert beyond.status_code == 422
