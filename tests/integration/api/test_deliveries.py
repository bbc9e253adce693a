"""Spares on order over the API: ordered, put off, arrived, called off; each once."""

from datetime import UTC, datetime, timedelta

import pytest

from planner.models import CostStock, TyreDelivery
from planner.selectors.accounts.books import site_day
from tests.lib.api import Caller, told
from tests.lib.mine import Mine

PATH = "sites/ridge/tyre-deliveries/"


def order(mine: Mine, supervisor: Caller, key: str = "d-1") -> dict[str, object]:
    body = {
        "size_as_written": "27.00 R 49", "quantity": 4, "reference": "PO 7",
        "expected_on": site_day(mine.site) + timedelta(days=30),
    }  # fmt: skip
    answer = supervisor.post(PATH, body, idempotency_key=key)
    assert answer.status_code == 201, answer.content
    return dict(told(answer))


def test_a_delivery_is_ordered_once_put_off_and_received_once(mine: Mine, supervisor: Caller) -> None:
    made = order(mine, supervisor)
    assert (made["size"], made["arrived_on"]) == ("27.00R49", None)
    assert order(mine, supervisor)["id"] == made["id"]
    path = f"{PATH}{made['id']}/"
    later = (site_day(mine.site) + timedelta(days=40)).isoformat()
    tag = supervisor.get(path)["ETag"]
    moved = supervisor.patch(path, {"expected_on": later, "why": "the ship is late"}, if_match=tag)
    assert told(moved)["expected_on"] == later
    assert supervisor.post(f"{path}receipt/", None, if_match=tag).status_code == 412
    arrived = supervisor.post(f"{path}receipt/", None, if_match=moved["ETag"])
    assert told(arrived)["arrived_on"] == site_day(mine.site).isoformat()
    assert CostStock.objects.get(size="27.00R49").on_hand == 4
    again = supervisor.post(f"{path}receipt/", None, if_match=arrived["ETag"])
    assert (again.status_code, CostStock.objects.get().on_hand) == (409, 4)


def test_a_delivery_is_called_off_and_a_day_that_is_over_refused(mine: Mine, supervisor: Caller) -> None:
    path = f"{PATH}{order(mine, supervisor)['id']}/"
    tag = supervisor.get(path)["ETag"]
    assert supervisor.patch(path, {"expected_on": "2020-01-01"}, if_match=tag).status_code == 422
    assert supervisor.send("DELETE", path, None, if_match=tag).status_code == 204
    assert not TyreDelivery.objects.exists()


def test_the_day_is_the_mines_own(mine: Mine, supervisor: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    # 17:00 UTC is 01:00 of the next day in Perth, 8 h ahead.
    monkeypatch.setattr("django.utils.timezone.now", lambda: datetime(2026, 11, 28, 17, tzinfo=UTC))
    body = {"size_as_written": "27.00R49", "quantity": 1, "expected_on": "2026-11-28"}
    assert supervisor.post(PATH, body).status_code == 422
    made = supervisor.post(PATH, {**body, "expected_on": "2026-11-29"})
    arrived = supervisor.post(f"{PATH}{told(made)['id']}/receipt/", None, if_match=made["ETag"])
    assert told(arrived)["arrived_on"] == "2026-11-29"
