"""The first page: each role sees what needs them now."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from planner.domain.permissions import Role
from planner.models import HeaterSet, HeaterSetPart, Shift, Technician, User
from planner.selectors.upkeep import upkeep_get
from tests.lib.books import books
from tests.lib.mine import DAY, ZONE, Mine, at, mine_equipped, mine_open
from tests.lib.plans import plan_next

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine at 05:00 on its Monday, with shifts for seven days."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    return mine_equipped()


def today(mine: Mine, role: str) -> str:
    client = Client()
    client.force_login(mine.users[role])
    return client.get(f"/at/{mine.site.code}/").content.decode()


def test_an_inspection_is_told_two_weeks_ahead_to_who_can_see_to_it(mine: Mine) -> None:
    part = HeaterSetPart.objects.all()[0]
    for days, told in ((15, False), (14, True), (-3, True)):
        HeaterSetPart.objects.filter(pk=part.pk).update(inspection_due_on=DAY + timedelta(days=days))
        words = "inspection was due" if days < 0 else "inspection due"
        assert (words in today(mine, "administrator")) is told
    assert "inspection was due" in today(mine, "supervisor")
    assert "inspection was due" not in today(mine, "technician")


def test_parts_of_a_set_that_are_due_on_one_day_stand_on_one_line(mine: Mine) -> None:
    HeaterSetPart.objects.update(inspection_due_on=DAY + timedelta(days=3))
    sets = HeaterSet.objects.count()
    assert HeaterSetPart.objects.count() > sets
    assert today(mine, "administrator").count("inspection due Thu 5 Mar 2026") == sets


def test_a_technician_off_shift_is_told_until_when_and_what_comes(
    mine: Mine, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = mine.order("A1")
    Technician.objects.filter(code="T1").update(user=mine.users["technician"])
    assert "No published plan covers it yet." in today(mine, "technician")
    plan_next(mine)
    shift = Shift.objects.filter(technician__user=mine.users["technician"]).order_by("starts_at")[0]
    begins = timezone.localtime(shift.starts_at, ZONE)
    page = today(mine, "technician")
    assert f"You are off shift until {begins:%A %-d %B %H:%M}." in page
    assert order.code in page.partition("Your next shift")[2]
    monkeypatch.setattr("django.utils.timezone.now", lambda: shift.starts_at)
    page = today(mine, "technician")
    assert "Your shift" in page
    assert "off shift" not in page
    Shift.objects.all().delete()
    assert "You are off shift, and no shift of yours is on the calendar." in today(mine, "technician")
    Technician.objects.update(user=None)
    assert "Your account stands for no technician of this site" in today(mine, "technician")


def test_a_roster_that_runs_out_before_a_plan_does_is_told(mine: Mine) -> None:
    # Plans cover 7 days by default; the shifts end on the seventh day, 6 days after the first.
    assert "shifts only until Sun 8 Mar" in today(mine, "administrator")
    mine.site.horizon_days = 6
    assert not upkeep_get(user=mine.supervisor, site=mine.site, today=DAY).shifts_end_soon
    Shift.objects.all().delete()
    assert "nobody is on shift" in today(mine, "administrator")


def test_every_role_has_a_first_page_of_its_own() -> None:
    found = books()
    told = {"Plan the days": {Role.SUPERVISOR}, "To the floor page": {Role.TECHNICIAN}}
    pages = {}
    for role, user in found.people.items():
        client = Client()
        client.force_login(user)
        pages[role] = client.get(f"/at/{found.site.code}/").content.decode()
    for words, roles in told.items():
        assert {role for role, page in pages.items() if words in page} == roles & set(pages)


def test_a_tyre_that_came_after_the_plan_is_told_with_the_offer_to_plan_again(mine: Mine) -> None:
    mine.order("A1")
    plan_next(mine)
    assert "Plan again from now?" not in today(mine, "supervisor")
    mine.order("B2", needed_by=at(18), priority=90)
    page = today(mine, "supervisor")
    assert "A tyre is to be repaired and no plan knows it yet:" in page
    assert "needed by Mon 2 Mar 18:00, weight 90" in page
    assert "Plan again from now?" in page
    assert "Plan again from now?" not in today(mine, "planner")


def test_who_opened_a_bare_site_is_led_to_what_it_lacks() -> None:
    bare = mine_open("bare")
    page = today(bare, "administrator")
    assert "things are missing before a plan can be made" in page
    assert 'href="/at/bare/site/"' in page
    assert "missing before a plan" not in today(bare, "supervisor")


def test_who_has_no_password_yet_is_named_to_who_can_give_the_way_to_one(mine: Mine) -> None:
    planner = mine.users["planner"]
    User.objects.exclude(pk=planner.pk).update(password="a hash")
    client = Client()
    client.force_login(User.objects.get(pk=mine.users["administrator"].pk))
    page = client.get("/at/ridge/site/").content.decode()
    told = page.partition("Who cannot sign in yet")[2].partition("</section>")[0]
    assert planner.username in told
    assert mine.supervisor.username not in told
    User.objects.filter(pk=planner.pk).update(password="a hash")
    assert "Who cannot sign in yet" not in client.get("/at/ridge/site/").content.decode()
