"""Every address under a site, walked by every role: the table of permissions decides, and nothing else."""

import re

import pytest
from django.test import Client
from django.urls import URLPattern

from planner.domain.permissions import Action, Role, may
from planner.models import AuditEvent, User
from planner.web.urls import on_site
from tests.lib.books import books
from tests.lib.mine import mine_open

pytestmark = pytest.mark.django_db

SOME = {"int": "1", "slug": "x", "str": "x", "month": "2026-10", "path": "x"}
PAGES = [each for each in on_site if isinstance(each, URLPattern)]


def address_of(page: URLPattern, site: str) -> str:
    """An address of the page; what it names need not exist."""
    route = re.sub(r"<(\w+):\w+>", lambda part: SOME.get(part.group(1), "1"), str(page.pattern))
    return f"/at/{site}/{route}"


def action_of(pattern: URLPattern) -> Action:
    """What the page asks for; a page that asks for nothing fails here."""
    found: Action = pattern.callback.action
    return found


def answers(client: Client, address: str) -> int:
    """The status of a reading; of a sending where the page only takes those."""
    status = client.get(address).status_code
    return client.post(address).status_code if status == 405 else status


def signed_in(user: User) -> Client:
    client = Client()
    client.force_login(user)
    return client


def test_no_page_is_left_out() -> None:
    assert len(PAGES) == len(on_site)
    assert len(PAGES) > 40


@pytest.mark.parametrize("action", sorted({action_of(each) for each in PAGES}))
def test_the_table_decides_who_opens_a_page(action: Action) -> None:
    found = books()
    refused = [role for role in Role if not may(role, action)]
    allowed = next(role for role in Role if may(role, action))
    clients = {role: signed_in(found.people[role]) for role in (*refused, allowed)}
    stranger, nobody = signed_in(User.objects.create_user("stranger")), Client()
    wrong = []
    for page in (page for page in PAGES if action_of(page) == action):
        address = address_of(page, found.site.code)
        told = {role: answers(client, address) == 403 for role, client in clients.items()}
        if told != {role: role in refused for role in clients}:
            wrong.append((address, told))
        assert (answers(stranger, address), answers(nobody, address)) == (404, 302), address
    assert wrong == []


@pytest.mark.parametrize("method", ["post", "delete"])
def test_no_method_lets_anybody_else_in(method: str) -> None:
    found = books()
    before = AuditEvent.objects.count()
    stranger, nobody = signed_in(User.objects.create_user("stranger")), Client()
    wrong = {}
    for page in PAGES:
        address = address_of(page, found.site.code)
        answered = [getattr(client, method)(address).status_code for client in (stranger, nobody)]
        # A page that takes no such method may say so before it asks who it is.
        if not (answered[0] in (404, 405) and answered[1] in (302, 405)):
            wrong[address] = answered
    assert wrong == {}
    assert AuditEvent.objects.count() == before


# Their numbers are a month of one's own site, and a view of one's own.
EVERYBODYS_OWN = {"accounts_month", "accounts_close", "queue_view_remove"}


def test_a_row_of_another_site_has_no_page_here() -> None:
    found = books()
    there = mine_open("elsewhere").users["administrator"]
    client, answered = signed_in(there), {}
    for page in PAGES:
        if (
            "<int:" in str(page.pattern)
            and page.name not in EVERYBODYS_OWN
            and may(Role.ADMINISTRATOR, action_of(page))
        ):
            answered[address_of(page, "elsewhere")] = answers(client, address_of(page, "elsewhere"))
    assert len(answered) > 10
    assert {address: status for address, status in answered.items() if status not in (404, 422)} == {}
    assert found.site.code != "elsewhere"
