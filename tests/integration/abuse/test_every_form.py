"""Every page with values that nobody means: refused or taken as text, never a fault of ours.

The addresses are walked and the names are read from the pages' own sources, so that a new one is tried too.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern

from planner.domain.permissions import Role, may
from planner.web.urls import on_site
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db
WEB = Path(__file__).resolve().parents[3] / "planner" / "web"
NAMED = re.compile(
    r"""(?:GET|POST)(?:\.get(?:list)?\(|\[)"(\w+)"|^    (\w+) = forms\.\w+Field""", re.MULTILINE
)
NASTY = {
    "nul": "a\0b", "long": "x" * 3_000, "huge number": "9" * 400, "below nothing": "-1", "no number": "NaN",
    "other digits": "\u0663\u202e\U0001f9f0", "date": "0000-00-00",
}  # fmt: skip
SOME = {"int": "1", "slug": "a-1", "str": "a-1", "path": "a"}


def names() -> set[str]:
    """Every name under which a page reads something that was sent."""
    found = (NAMED.findall(path.read_text()) for path in WEB.rglob("*.py"))
    return {first or second for each in found for first, second in each}


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with an order and a published plan, both of number 1."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("T-1")
    plan_published(mine, at(6), at(18, days=2))
    return mine


def pages(mine: Mine) -> Iterator[tuple[Client, str]]:
    """Every address with somebody who may open it."""
    clients = {}
    for role, user in mine.users.items():
        clients[role] = Client(raise_request_exception=False)
        clients[role].force_login(user)
    for page in on_site:
        assert isinstance(page, URLPattern)
        role = next(role for role in Role if may(role, page.callback.action))
        route = re.sub(r"<(\w+):\w+>", lambda part: SOME[part.group(1)], str(page.pattern))
        yield clients[role], f"/at/ridge/{route}"


@pytest.mark.parametrize("address", ["/at/ridge/", "/api/v1/sites/ridge/", "/sign-in/", "/admin/"])
def test_a_cookie_with_a_nul_is_refused(mine: Mine, address: str) -> None:
    # An octal escape in a quoted cookie value is read as the character (RFC 6265 leaves that to servers).
    client = Client(raise_request_exception=False, headers={"cookie": r'sessionid="a\000b"'})
    assert client.get(address).status_code == 400


@pytest.mark.parametrize("tail", ["?search=%00", "?page=%00", "?ordering=a%00b"])
def test_a_query_of_the_api_with_a_nul_is_told_by_its_field(mine: Mine, tail: str) -> None:
    client = Client(raise_request_exception=False)
    client.force_login(mine.supervisor)
    assert client.get(f"/api/v1/sites/ridge/tyres/{tail}").status_code in (200, 404, 422)


def test_the_names_are_found() -> None:
    assert {"why", "search", "serial", "readings"} <= names()
    assert len(names()) > 80


@pytest.mark.parametrize("kind", NASTY)
def test_no_value_is_a_fault_of_ours(mine: Mine, kind: str) -> None:
    sent = dict.fromkeys(names(), NASTY[kind])
    wrong = []
    for client, address in pages(mine):
        for method in (client.get, client.post):
            with transaction.atomic():
                status = method(address, sent).status_code
                transaction.set_rollback(True)
            if status >= 500:
                wrong.append((method.__name__, address, status))
    assert wrong == []
