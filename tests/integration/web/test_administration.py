"""The administrator's pages: every table alike, a broken plan told first, somebody new let in."""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from planner.models import (
    AuditEvent,
    Closure,
    HeaterSet,
    Notice,
    PatternBreak,
    Plan,
    Position,
    RosterException,
    RosterPattern,
    Route,
    Shift,
    Site,
    SiteMembership,
    Technician,
    User,
)
from planner.services.site_tables.tables import SITE_TABLES
from tests.lib.mine import DAY, Mine, at, mine_equipped, mine_open
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine at 05:00 on its Monday, and a broker that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    return mine_equipped()


def published(mine: Mine) -> Plan:
    mine.order("A1")
    return plan_published(mine, at(6), at(18, days=2))


def client_of(mine: Mine, role: str = "administrator") -> Client:
    client = Client()
    client.force_login(mine.users[role])
    return client


def address(mine: Mine, rest: str) -> str:
    return f"/at/{mine.site.code}/site/{rest}"


def sent(mine: Mine, rest: str, **told: Any) -> str:
    """What comes back of a form, redirects followed."""
    return client_of(mine).post(address(mine, rest), told, follow=True).content.decode()


def closed_on_monday(mine: Mine) -> dict[str, Any]:
    return {
        "heater_set": HeaterSet.objects.get(code="H1").pk, "starts_at": f"{DAY}T06:00",
        "ends_at": f"{DAY + timedelta(days=3)}T18:00", "reason": "element failed",
    }  # fmt: skip


@pytest.mark.parametrize("noun", SITE_TABLES)
def test_every_table_has_its_list_and_its_form(mine: Mine, noun: str) -> None:
    client = client_of(mine)
    page = client.get(address(mine, f"{noun}/"))
    assert page.status_code == 200
    assert str(SITE_TABLES[noun].title) in page.content.decode()
    assert client.get(address(mine, f"{noun}/add/")).status_code == 200
    keys = re.findall(rf'/site/{noun}/(\d+)/"', page.content.decode())
    for key in keys[:1]:
        assert client.get(address(mine, f"{noun}/{key}/")).status_code == 200
        assert client.get(address(mine, f"{noun}/{key}/end/")).status_code == 200


@pytest.mark.parametrize("noun", ["technician", "position", "heaterset", "rosterpattern", "closure"])
def test_a_list_costs_the_same_for_one_row_and_for_three(mine: Mine, noun: str) -> None:
    person = Technician.objects.get(code="T1")
    add: dict[str, Any] = {
        "technician": lambda n: mine.add(noun, code=f"N{n}", name="new"),
        "position": lambda n: mine.add(noun, code=f"N{n}", name="new"),
        "heaterset": lambda n: mine.heater_set(f"N{n}"),
        "rosterpattern": lambda n: mine.add(
            noun, technician=person, recurrence="FREQ=DAILY", first_day=DAY + timedelta(days=400 + n),
            starts_at="06:00", ends_at="18:00",
        ),
        "closure": lambda n: mine.add(
            noun, position=mine.position("P1"), starts_at=at(n), ends_at=at(n + 1), reason="floor repair"
        ),
    }  # fmt: skip
    client, counts = client_of(mine), []
    for number in (1, 2, 3):
        add[noun](number)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(address(mine, f"{noun}/")).status_code == 200
        counts.append(len(queries))
    assert counts[0] == counts[2]


def test_a_position_is_added_changed_and_ended_with_who_and_why(mine: Mine) -> None:
    kinds = [mine.position("C1").kinds.get().pk]
    assert "is on file" in sent(mine, "position/add/", code="C9", name="Cure 9", kinds=kinds, active="on")
    row = Position.objects.get(code="C9")
    told = {"code": "C9", "name": "By the door", "kinds": kinds, "active": "on", "version": row.version}
    assert "By the door is on file" in sent(mine, f"position/{row.pk}/", **told)
    # The page that was sent first is old now.
    assert "changed by somebody else" in sent(mine, f"position/{row.pk}/", **told)
    assert "say why" in sent(mine, f"position/{row.pk}/end/", why=" ")
    assert "has ended" in sent(mine, f"position/{row.pk}/end/", why="crane rail")
    row.refresh_from_db()
    assert not row.active
    event = AuditEvent.objects.filter(noun="position", noun_id=str(row.pk)).order_by("-sequence")[0]
    assert (event.user, event.why) == (mine.users["administrator"], "crane rail")


def test_a_faulty_form_keeps_what_was_filled_in(mine: Mine) -> None:
    page = sent(mine, "heaterset/add/", code="H9", name="Nine", channels="two", power_kw="-1")
    assert 'value="Nine"' in page
    assert "Enter a whole number." in page
    assert not HeaterSet.objects.filter(code="H9").exists()


def test_a_closure_that_breaks_the_plan_says_so_first(mine: Mine) -> None:
    plan = published(mine)
    page = sent(mine, "closure/add/", **closed_on_monday(mine))
    assert f"Not saved: that would break plan {plan.number}" in page
    assert "<strong>WO-0001</strong> A1" in page
    assert "closed" in page
    assert not Closure.objects.exists()
    told = sent(mine, "closure/add/", **closed_on_monday(mine), accepted="yes")
    assert "The supervisors see that the published plan no longer holds." in told
    assert Closure.objects.count() == 1
    event = AuditEvent.objects.get(action="plan_broken")
    assert "WO-0001" in event.what
    assert Notice.objects.get(user=mine.supervisor).title == event.what
    today = client_of(mine, "supervisor").get(f"/at/{mine.site.code}/").content.decode()
    assert "no longer holds: WO-0001" in today
    # On record by the full date, on the page as on the timeline.
    assert " closed from 2026-03-02 " in event.why
    assert " closed from Mon " in today
    assert " closed from 2026-" not in today


def test_a_change_that_breaks_nothing_more_goes_through(mine: Mine) -> None:
    published(mine)
    sent(mine, "closure/add/", **closed_on_monday(mine), accepted="yes")
    later = {"starts_at": f"{DAY + timedelta(days=30)}T06:00", "ends_at": f"{DAY + timedelta(days=31)}T06:00"}
    assert "is on file" in sent(mine, "isolation/add/", **later, reason="yearly check")
    assert AuditEvent.objects.filter(action="plan_broken").count() == 1


def test_a_day_off_takes_its_shift_and_what_was_planned_in_it(mine: Mine) -> None:
    published(mine)
    told = {"technician": Technician.objects.get(code="T1").pk, "day": DAY, "reason": "leave"}
    assert "Not saved" in sent(mine, "rosterexception/add/", **told)
    assert Shift.objects.filter(day=DAY).count() == 2
    sent(mine, "rosterexception/add/", **told, accepted="yes")
    assert RosterException.objects.count() == 1
    assert [shift.technician.code for shift in Shift.objects.filter(day=DAY)] == ["T2"]


def test_a_pattern_with_its_breaks_in_one_line(mine: Mine) -> None:
    pattern = RosterPattern.objects.get(technician__code="T1")
    told = {
        "technician": pattern.technician.pk, "recurrence": "FREQ=DAILY", "first_day": DAY,
        "starts_at": "06:00", "ends_at": "18:00", "version": pattern.version,
    }  # fmt: skip
    assert "is no break" in sent(mine, f"rosterpattern/{pattern.pk}/", **told, breaks="noon")
    assert "recurrence rule of RFC 5545" in sent(
        mine, f"rosterpattern/{pattern.pk}/", **{**told, "recurrence": "FREQ=NOW"}
    )
    sent(mine, f"rosterpattern/{pattern.pk}/", **told, breaks="3:00+20, 7:30+30")
    assert list(PatternBreak.objects.filter(pattern=pattern).values_list("after_minutes", "minutes")) == [
        (180, 20), (450, 30),
    ]  # fmt: skip
    shift = Shift.objects.filter(technician__code="T1", day=DAY).get()
    assert [pause.starts_at for pause in shift.breaks.all()] == [at(9), at(13, 30)]


@pytest.mark.parametrize(
    ("change", "words"),
    [({"power_limit_kw": "1"}, "kW"), ({"cures_per_attendant": "2", "watch_skill": "prep-only"}, "watch")],
)
def test_a_rule_that_breaks_the_plan_says_so_first(mine: Mine, change: dict[str, str], words: str) -> None:
    published(mine)
    page = client_of(mine).get(address(mine, "rules/")).content.decode()
    told = dict(re.findall(r'name="(\w+)"[^>]*value="([^"]*)"', page))
    told |= {
        "language": "en",
        "temperature_unit": "°C",
        "pressure_unit": "kPa",
        "time_zone": "Australia/Perth",
    }
    told |= dict.fromkeys(("attendant_may_work", "watch_cool_down", "handover_allowed"), "on")
    answer = sent(mine, "rules/", **{**told, **change})
    assert "Not saved" in answer
    assert words in answer
    kept = Site.objects.get(pk=mine.site.pk)
    assert (kept.power_limit_kw, kept.watch_skill) == (None, "cure")


def test_ending_a_route_names_the_planned_tyres_of_it(mine: Mine) -> None:
    published(mine)
    page = sent(mine, f"route/{Route.objects.get().pk}/end/", why="new chart")
    assert "no route for a sidewall repair of 20.5R25" in page
    assert Route.objects.get().active


def test_somebody_new_chooses_a_password_once(mine: Mine) -> None:
    told = {"username": "mika", "role": "planner", "first_name": "Mika", "last_name": "Aalto"}
    assert "belongs to the site now" in sent(mine, "sitemembership/add/", **told)
    member = SiteMembership.objects.get(user__username="mika")
    assert not member.user.has_usable_password()
    page = sent(mine, f"sitemembership/{member.pk}/password/")
    found = re.search(r'value="http://testserver(/password/[^"]+)"', page)
    assert found
    client = Client()
    form = client.get(found[1], follow=True)
    chosen = {"new_password1": "a-quiet-river-9", "new_password2": "a-quiet-river-9"}
    client.post(form.redirect_chain[-1][0], chosen)
    assert User.objects.get(username="mika").check_password("a-quiet-river-9")
    assert "was used already" in Client().get(found[1], follow=True).content.decode()


def test_nobody_takes_an_account_over_that_another_site_knows(mine: Mine) -> None:
    there = mine_open("there")
    told = {"username": there.supervisor.username, "role": "planner"}
    sent(mine, "sitemembership/add/", **told)
    member = SiteMembership.objects.get(site=mine.site, user=there.supervisor)
    answer = client_of(mine).post(address(mine, f"sitemembership/{member.pk}/password/"))
    assert answer.status_code == 403
    assert "known on other sites too" in answer.content.decode()


def test_the_roster_is_put_on_the_calendar_from_the_page(mine: Mine) -> None:
    last = DAY + timedelta(days=20)
    assert "42 shifts are on the calendar" in sent(mine, "calendar/", last_day=last)  # 21 days of two
    assert Shift.objects.filter(day=last).count() == 2
    assert client_of(mine).post(address(mine, "calendar/"), {"last_day": "soon"}).status_code == 422


def test_the_workbook_goes_out_is_seen_and_comes_in(mine: Mine) -> None:
    client = client_of(mine)
    raw = client.get(address(mine, "sheets/export/")).content
    assert client.get(address(mine, "sheets/template/")).content[:2] == b"PK"
    Position.objects.filter(code="C1").update(name="Moved")
    file = SimpleUploadedFile("site.xlsx", raw)
    page = client.post(address(mine, "sheets/"), {"file": file, "sheet": ""}).content.decode()
    assert Position.objects.get(code="C1").name == "Moved"
    carried = dict(re.findall(r'name="(name|sheet|carried)" value="([^"]*)"', page))
    client.post(address(mine, "sheets/"), carried)
    assert Position.objects.get(code="C1").name == "C1"


def test_the_faults_of_a_file_stand_on_the_page(mine: Mine) -> None:
    file = SimpleUploadedFile("a.csv", b"code,name,kinds\nC 9,Nine,cure\n")
    page = (
        client_of(mine).post(address(mine, "sheets/"), {"file": file, "sheet": "positions"}).content.decode()
    )
    assert "1 fault. Nothing is imported until it is mended." in page
    assert '<td class="number">2</td><th scope="row">code</th>' in page
    assert "Import all of it" not in page
