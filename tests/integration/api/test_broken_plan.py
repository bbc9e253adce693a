"""A change over the API that would break the published plan says so first, as on the pages."""

from datetime import timedelta

import pytest
from django.utils import timezone

from planner.models import AuditEvent, Closure, Plan, Shift
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine, at
from tests.lib.plans import plan_published

CLOSED = {"starts_at": at(6), "ends_at": at(18, days=2), "reason": "a leaking roof"}


@pytest.fixture
def plan(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> Plan:
    """One tyre planned on the mine's Monday, seen from the evening before."""
    monkeypatch.setattr(timezone, "now", lambda: at(6) - timedelta(hours=10))
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine.order("A1")
    return plan_published(mine, at(6), at(18, days=2))


def closed(mine: Mine) -> dict[str, object]:
    """The only position for cures, closed."""
    return {"position": mine.position("C1").pk, **CLOSED}


def test_what_would_break_is_named_and_nothing_is_changed(mine: Mine, plan: Plan, supervisor: Caller) -> None:
    answer = supervisor.post("sites/ridge/closures/", closed(mine))
    assert (answer.status_code, told(answer)["code"]) == (409, "breaks_plan")
    faults = [fault["message"] for fault in told(answer)["faults"]]
    assert faults and all("closures" in fault and "WO-0001" in fault for fault in faults)
    assert not Closure.objects.exists()


def test_accepted_it_is_made_and_on_record(mine: Mine, plan: Plan, supervisor: Caller) -> None:
    path = "sites/ridge/closures/?accept_broken_plan=true"
    assert supervisor.post(path, closed(mine)).status_code == 201
    assert AuditEvent.objects.get(action="plan_broken").noun_id == str(plan.pk)
    # What is broken already is no news: the same place may be opened and closed again.
    row = Closure.objects.get()
    one = f"sites/ridge/closures/{row.pk}/"
    assert supervisor.send("DELETE", one, None, if_match=supervisor.get(one)["ETag"]).status_code == 204


def test_a_change_and_the_site_s_rules_ask_too(mine: Mine, plan: Plan, administrator: Caller) -> None:
    place = f"sites/ridge/positions/{mine.position('C1').pk}/"
    gone = administrator.patch(place, {"active": False}, if_match=administrator.get(place)["ETag"])
    assert told(gone)["code"] == "breaks_plan"
    site = "sites/ridge/"
    dark = administrator.patch(
        site, {"power_limit_kw": 1, "why": "a fuse"}, if_match=administrator.get(site)["ETag"]
    )
    assert (dark.status_code, told(dark)["code"]) == (409, "breaks_plan")


def test_a_day_off_takes_its_shift_and_the_roster_asks_as_well(
    mine: Mine, plan: Plan, supervisor: Caller
) -> None:
    people = told(supervisor.get("sites/ridge/technicians/"))["results"]
    days = "sites/ridge/roster-exceptions/"
    off = [{"technician": each["id"], "day": "2026-03-02", "reason": "leave"} for each in people]
    answers = [supervisor.post(days, body) for body in off]
    assert 409 in [answer.status_code for answer in answers]
    for body, answer in zip(off, answers, strict=True):
        if answer.status_code == 409:
            assert supervisor.post(f"{days}?accept_broken_plan=true", body).status_code == 201
    assert not Shift.objects.filter(day="2026-03-02").exists()


def test_a_broken_part_is_told_to_the_supervisors_and_never_refused(mine: Mine, plan: Plan) -> None:
    technician = caller(mine.users["technician"])
    part = told(technician.get("sites/ridge/heater-set-parts/"))["results"][0]
    path = f"sites/ridge/heater-set-parts/{part['id']}/"
    sent = {"move": "take_out", "why": "a cut cable"}
    out = technician.post(f"{path}moves/", sent, if_match=technician.get(path)["ETag"])
    assert (out.status_code, told(out)["state"]) == (200, "out")
    assert "WO-0001" in AuditEvent.objects.get(action="plan_broken").what


def test_a_wish_that_is_neither_yes_nor_no_is_refused(mine: Mine, supervisor: Caller) -> None:
    answer = supervisor.post("sites/ridge/closures/?accept_broken_plan=perhaps", closed(mine))
    assert (answer.status_code, told(answer)["faults"][0]["place"]) == (422, "accept_broken_plan")
