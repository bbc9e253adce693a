"""In another language every page is told in it, but for names that people gave."""

import pytest
from django.test import Client

from planner.models import User
from planner.services.tyre_follows import tyre_follow
from tests.lib.made_up_language import GIVEN, BracketedWords, left_over, speak
from tests.lib.mine import Mine, mine_equipped
from tests.lib.plans import plan_next

pytestmark = pytest.mark.django_db

PAGES = {
    "supervisor": (
        "", "plan/", "plan/versions/", "plan/{plan}/late/", "plan/{plan}/tells/", "plan/{plan}/help/",
        "plan/{plan}/job/WO-0001/", "sheets/", "floor/", "bay/",
    ),
    "planner": (
        "", "queue/", "queue/?search=none", "queue/register/", "orders/1/", "fleet/",
        "fleet/spares/", "notices/", "calendar/", "find/?q=none", "materials/",
    ),
}  # fmt: skip


@pytest.fixture
def pseudo(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every translation of ours and of Django's comes in brackets."""
    speak(BracketedWords(), monkeypatch)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with a published plan of one tyre."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    tyre_follow(user=mine.users["planner"], tyre=mine.order("A1").tyre)
    return mine


@pytest.mark.parametrize("role", PAGES)
def test_no_word_is_left_in_english(mine: Mine, role: str, request: pytest.FixtureRequest) -> None:
    plan = plan_next(mine)
    request.getfixturevalue("pseudo")
    client = Client()
    client.force_login(User.objects.get(username=f"{role}-ridge"))
    found = {}
    for address in PAGES[role]:
        answer = client.get(f"/at/ridge/{address.format(plan=plan.pk)}")
        assert answer.status_code == 200, address
        words = list(left_over(answer.content.decode(), GIVEN))
        if words:
            found[address] = words
    assert found == {}, found
