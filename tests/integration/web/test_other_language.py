"""In another language every page is told in it, but for names that people gave and words of the core."""

import re
from collections.abc import Iterator

import pytest
from django.test import Client
from django.utils import translation

from planner.models import User
from planner.services.tyre_follows import tyre_follow
from tests.lib.mine import Mine, mine_equipped
from tests.lib.page_words import Words
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
GIVEN = frozenset(
    [
        "Mine",
        "ridge",
        "planner",
        "supervisor",
        "Perth",
        "Australia",
        "WO",
        "Sidewall",
        "Skive",
        "Fill",
        "Rig",
        "Cure",
        "Cool",
        "Strip",
        "prep",
        "cure",
    ]
)
"""What the people of this mine named so."""
MARKS = re.compile(r"⟦[^⟦⟧]*⟧")


class PseudoWords:
    """A language that says everything in brackets; marks within marks are one."""

    def __init__(self) -> None:
        self.plain = translation.gettext, translation.ngettext

    def one(self, message: str) -> str:
        """A message."""
        return f"⟦{message}⟧" if message else ""

    def many(self, singular: str, plural: str, number: int) -> str:
        """A message with its plural."""
        return self.one(singular if number == 1 else plural)


@pytest.fixture
def pseudo(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every translation of ours and of Django's comes in brackets."""
    words = PseudoWords()
    monkeypatch.setattr(translation._trans, "gettext", words.one, raising=False)
    monkeypatch.setattr(translation._trans, "ngettext", words.many, raising=False)
    monkeypatch.setattr(
        translation._trans, "pgettext", lambda _context, message: words.one(message), raising=False
    )


def left_over(page: str) -> Iterator[str]:
    """Words outside of every bracket."""
    bare = re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.DOTALL)
    while MARKS.search(bare):
        bare = MARKS.sub("", bare)
    reader = Words(also=GIVEN)
    reader.feed(bare)
    reader.close()
    lines = page.splitlines()
    yield from (f"{word} in {lines[line - 1].strip()[:300]}" for line, word in reader.found)


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
        words = list(left_over(answer.content.decode()))
        if words:
            found[address] = words
    assert found == {}, found
