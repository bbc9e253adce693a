"""Who may open which page, and what a list costs."""

import pytest
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from planner.domain.permissions import Role
from planner.models import User
from tests.lib.books import books, order_add

pytestmark = pytest.mark.django_db

EVERYONES = ("", "queue/", "plan/", "plan/versions/", "sheets/", "sheets/pdf/", "bay/", "orders/1/")


def _client(user: User) -> Client:
    client = Client()
    client.force_login(user)
    return client


@pytest.mark.parametrize("page", EVERYONES)
def test_members_open_every_page_of_their_site_and_strangers_none(page: str) -> None:
    found = books()
    address = f"/at/{found.site.code}/{page}"
    for user in found.people.values():
        assert _client(user).get(address).status_code == 200
    stranger = User.objects.create_user("stranger", password="a-long-secret")
    assert _client(stranger).get(address).status_code == 404
    assert Client().get(address).status_code == 302


def test_only_who_may_register_damage_gets_the_form() -> None:
    found = books()
    address = f"/at/{found.site.code}/queue/register/"
    allowed = {role for role, user in found.people.items() if _client(user).get(address).status_code == 200}
    assert allowed == {Role.SUPERVISOR, Role.PLANNER} & set(found.people)


def test_the_queue_costs_the_same_with_one_row_and_with_three(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    found = books()
    client = _client(found.people[Role.SUPERVISOR])
    address = f"/at/{found.site.code}/queue/"
    with django_assert_num_queries(15, exact=False) as counted:
        client.get(address)
    one = len(counted)
    for number in (2, 3):
        order_add(found.site, found.people[Role.SUPERVISOR], number)
    with django_assert_num_queries(one):
        page = client.get(address)
    assert page.content.decode().count("<tr>") == 4  # the head and three rows


def test_a_plan_can_only_be_built_by_a_supervisor() -> None:
    found = books()
    for role, user in found.people.items():
        if role is not Role.SUPERVISOR:
            assert _client(user).post(f"/at/{found.site.code}/plan/build/").status_code == 403


def test_a_nonsense_horizon_is_refused_in_plain_words() -> None:
    found = books()
    answer = _client(found.people[Role.SUPERVISOR]).post(
        f"/at/{found.site.code}/plan/build/", {"first_day": "2020-01-01", "days": "3", "seconds": "10"}
    )
    assert answer.status_code == 422
    assert "Those days are over" in answer.content.decode()
