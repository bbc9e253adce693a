"""Who decides on a tyre knows beforehand whether any plan could take it in."""

import pytest
from django.test import Client

from planner.domain.injury import Zone
from planner.models import WorkOrder
from planner.services.tyres import tyre_register
from planner.services.work_orders import work_order_decide_to_repair, work_order_receive
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db
BEFORE = "As the bay stands, no plan could take it in:"


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine at 05:00 on its Monday."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    return mine_equipped()


def received(mine: Mine, size: str, zone: Zone) -> WorkOrder:
    """A tyre that waits for a decision."""
    tyre = tyre_register(user=mine.supervisor, site=mine.site, serial=f"{size} {zone}", size_as_written=size)
    mine.damage(tyre, zone=zone)
    return work_order_receive(
        user=mine.supervisor, site=mine.site, tyre=tyre, needed_by=at(6, days=3), received_at=at(4)
    )


def page(mine: Mine, order: WorkOrder, role: str = "supervisor") -> str:
    client = Client()
    client.force_login(mine.users[role])
    return client.get(f"/at/{mine.site.code}/orders/{order.number}/").content.decode()


def test_what_no_plan_could_take_in_is_told_before_it_is_decided(mine: Mine) -> None:
    crown = received(mine, "20.5R25", Zone.CROWN)  # the site has a route for sidewalls alone
    large = received(mine, "33.00R51", Zone.SIDEWALL)  # and a set up to 29.5-29
    for order, words in ((crown, "no route for a crown repair"), (large, "no heater set of the site fits")):
        told = page(mine, order).partition(BEFORE)[2]
        assert words in told.partition("</ul>")[0]
    assert BEFORE in page(mine, large, "planner")
    work_order_decide_to_repair(user=mine.supervisor, work_order=large)
    assert BEFORE not in page(mine, large)


def test_nothing_is_said_of_a_tyre_that_can_be_planned(mine: Mine) -> None:
    assert BEFORE not in page(mine, received(mine, "20.5R25", Zone.SIDEWALL))
