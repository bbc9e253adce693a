"""One user, and one address, may ask only so often; 429 says when to come back (RFC 6585, section 4)."""

import pytest

from api.base.throttles import AddressThrottle, UserThrottle
from tests.lib.api import caller, told
from tests.lib.mine import Mine


def test_a_user_is_slowed_down_and_another_is_not(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(UserThrottle, "rate", "3/min", raising=False)
    busy, other = caller(mine.supervisor), caller(mine.users["planner"])
    assert [busy.get("sites/").status_code for _ in range(4)] == [200, 200, 200, 429]
    refused = busy.get("sites/ridge/")
    assert (refused.status_code, told(refused)["code"]) == (429, "throttled")
    assert 0 < int(refused["Retry-After"]) <= 60
    assert other.get("sites/").status_code == 200


def test_an_address_that_guesses_tokens_is_slowed_down(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(AddressThrottle, "rate", "3/min", raising=False)
    guesser = caller(None, "tyrewright_guess")
    assert [guesser.get("sites/").status_code for _ in range(4)] == [401, 401, 401, 429]


def test_an_address_is_the_one_that_the_server_saw(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(AddressThrottle, "rate", "3/min", raising=False)
    guesser = caller(None)
    statuses = [guesser.get("sites/", x_forwarded_for=f"10.0.0.{each}").status_code for each in range(4)]
    assert statuses[-1] == 429
