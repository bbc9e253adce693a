"""What fails in the bay, from the bay page: a part taken out, somebody away, the way to plan again."""

import pytest
from django.test import Client

from planner.models import HeaterSetPart, Notice
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine at 09:00 on its Monday with a published plan that needs its only set."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(9))
    mine = mine_equipped()
    mine.order("A1")
    plan_published(mine, at(6), at(18, days=2))
    return mine


def client(mine: Mine, role: str) -> Client:
    signed_in = Client()
    signed_in.force_login(mine.users[role])
    return signed_in


def test_a_part_that_failed_is_taken_out_and_the_supervisor_may_plan_again(mine: Mine) -> None:
    part = HeaterSetPart.objects.filter(kind="inside_pad").get()
    address = f"/at/{mine.site.code}/bay/parts/{part.pk}/"
    technician = client(mine, "technician")
    assert "Take it out" in technician.get(address).content.decode()
    assert "This field is required" in technician.post(address, {"move": "take_out"}).content.decode()
    assert technician.post(address, {"move": "burn", "why": "cold corner"}).status_code == 404
    assert technician.post(address, {"move": "take_out", "why": "cold corner"}).status_code == 302
    part.refresh_from_db()
    assert (part.state, part.note) == ("out", "cold corner")
    today = client(mine, "supervisor").get(f"/at/{mine.site.code}/").content.decode()
    assert "Plan 1 no longer holds: the bay changed" in today
    assert "Plan again from now?" in today
    assert Notice.objects.filter(user=mine.supervisor, title__contains="no longer holds").count() == 1
    back = {"move": "put_back", "why": "new element", "inspection_due_on": "2027-01-01"}
    assert technician.post(address, back).status_code == 302
    part.refresh_from_db()
    assert (part.state, str(part.inspection_due_on)) == ("fit", "2027-01-01")
    # A move that the part's state does not lead to is refused in words.
    assert "cannot put back" in technician.post(address, back).content.decode()


def test_a_part_is_not_moved_by_who_may_not(mine: Mine) -> None:
    part = HeaterSetPart.objects.first()
    assert part
    address = f"/at/{mine.site.code}/bay/parts/{part.pk}/"
    assert client(mine, "accountant").get(address).status_code == 403
    assert client(mine, "planner").post(address, {"move": "take_out", "why": "?"}).status_code == 403
    assert client(mine, "technician").get(f"/at/{mine.site.code}/bay/parts/999/").status_code == 404


def test_the_bay_leads_a_supervisor_to_who_is_away_and_what_is_closed(mine: Mine) -> None:
    page = client(mine, "supervisor").get(f"/at/{mine.site.code}/bay/").content.decode()
    assert page.count("Away today") == 2
    assert page.count("Close it") == 3
    assert "Away today" not in client(mine, "technician").get(f"/at/{mine.site.code}/bay/").content.decode()
