"""The floor page: everybody's work, what runs over and its effect, readings and photos once."""

import base64
import io
from datetime import datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from PIL import Image

from planner.domain.plan import PlannedJob
from planner.models import (
    AuditEvent,
    CureReading,
    Damage,
    HeaterSet,
    InjuryPhoto,
    Plan,
    Route,
    StageRun,
    Technician,
    TyreWatch,
    UserPreference,
)
from planner.selectors.floor_work import hot_tyre_list
from planner.selectors.overrun_effects import OverrunEffect, overrun_effect_list
from planner.selectors.overruns import overrun_list
from planner.selectors.plans import plan_content_get
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db
NOW = at(9)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine at 09:00 on its Monday, and a broker that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOW)
    return mine_equipped()


def published(mine: Mine, tyres: int = 1) -> Plan:
    for number in range(1, tyres + 1):
        mine.order(f"A{number}")
    return plan_published(mine, at(6), at(18, days=2))


def run_add(plan: Plan, upto: int, started_at: datetime, job: int = 0) -> PlannedJob:
    """The planned stages of a job up to the place `upto`, the last of them running since `started_at`."""
    planned = plan_content_get(plan=plan).plan.schedule.jobs[job]
    damage = Damage.objects.get(work_order__number=int(planned.id.removeprefix("WO-")))
    assert damage.work_order
    for place, stage in enumerate(planned.stages[: upto + 1]):
        is_last = place == upto
        StageRun.objects.create(
            site=plan.site, work_order=damage.work_order, damage=damage, sequence=place + 1, name=stage.name,
            state="running" if is_last else "done", started_at=started_at,
            ended_at=None if is_last else started_at,
            heater_set=HeaterSet.objects.filter(code=stage.heater_set or "").first(),
        )  # fmt: skip
    type(damage.work_order).objects.filter(pk=damage.work_order.pk).update(state="in_hand")
    return planned


def client_of(mine: Mine, role: str) -> Client:
    client = Client()
    client.force_login(mine.users[role])
    return client


def page_of(mine: Mine, role: str = "supervisor") -> str:
    return client_of(mine, role).get(f"/at/{mine.site.code}/floor/").content.decode()


def effect_at(mine: Mine, plan: Plan, now: datetime) -> OverrunEffect:
    overruns = overrun_list(user=mine.supervisor, site=mine.site, plan=plan, now=now)
    (effect,) = overrun_effect_list(plan=plan, overruns=overruns, now=now)
    return effect


def test_a_supervisor_sees_everybodys_tyres_and_a_technician_without_work_none(mine: Mine) -> None:
    published(mine, tyres=2)
    assert page_of(mine).count('data-tap-action="begin"') == 2
    mine.add("technician", code="T9", name="T9", user=mine.users["technician"])
    assert "No work of yours in the plan today" in page_of(mine, "technician")


def test_the_page_costs_as_many_queries_for_three_tyres_as_for_one(mine: Mine) -> None:
    plan = published(mine, tyres=4)  # one stays untouched, so that approvals are looked up each time
    client = client_of(mine, "supervisor")
    counts = []
    for job in range(3):
        run_add(plan, 3, at(8), job=job)
        with CaptureQueriesContext(connection) as queries:
            assert client.get(f"/at/{mine.site.code}/floor/").status_code == 200
        counts.append(len(queries))
    assert counts[0] == counts[2]


def test_an_overrun_pushes_its_own_tyre_only_as_far_as_it_must(mine: Mine) -> None:
    plan = published(mine)
    planned = run_add(plan, 0, at(6))
    due = at(6) + timedelta(minutes=planned.stages[0].end)
    # What follows begins when it was planned to, until the overrun meets it.
    slack = planned.stages[1].start - planned.stages[0].end
    effect = effect_at(mine, plan, due + timedelta(minutes=slack + 40))
    assert 0 < effect.minutes_later <= 40
    assert effect.ready_at - effect.planned_at == timedelta(minutes=effect.minutes_later)


def test_a_cure_that_runs_into_the_evening_says_what_breaks(mine: Mine) -> None:
    plan = published(mine)
    planned = run_add(plan, 3, at(9))
    assert planned.stages[3].name == "Cure"
    effect = effect_at(mine, plan, at(18, 30))
    # The shift ends at 18:00 (`mine_equipped`), so the stretched cure has nobody beside it.
    assert any("unattended" in words for words in effect.breaches)


def test_the_offer_to_plan_again_stands_on_the_supervisors_floor_alone(mine: Mine) -> None:
    plan = published(mine)
    run_add(plan, 0, at(6))
    for role, told in (("supervisor", True), ("technician", False)):
        assert ("Show what would move" in page_of(mine, role)) is told


def test_a_tyre_whose_route_was_ended_counts_as_hot(mine: Mine) -> None:
    plan = published(mine)
    run_add(plan, 4, at(8))
    assert [each.stage for each in hot_tyre_list(user=mine.supervisor, site=mine.site)] == ["Cool"]
    (tyre,) = Damage.objects.all()
    Route.objects.update(active=False)
    assert [each.damage for each in hot_tyre_list(user=mine.supervisor, site=mine.site)] == [tyre.pk]


def tap(mine: Mine, key: str, **told: str) -> tuple[int, str]:
    body = {"job": "WO-0001", "stage": "Cure", "at": str(int(NOW.timestamp() * 1000)), **told}
    answer = client_of(mine, "technician").post(
        f"/at/{mine.site.code}/floor/tap/", body, headers={"Idempotency-Key": key}
    )
    return answer.status_code, answer.json()["words"]


def test_a_reading_in_the_readers_units_is_kept_once(mine: Mine) -> None:
    run_add(published(mine), 3, at(8))
    UserPreference.objects.create(user=mine.users["technician"], temperature_unit="°F", pressure_unit="psi")
    for _ in range(2):
        assert tap(mine, "k1", action="reading", inside="284", outside="248,0", pressure="30") == (200, "")
    row = CureReading.objects.get()
    # 284 °F = 140 °C, 248 °F = 120 °C, 30 psi = 206.84 kPa.
    assert (row.inside_c, row.outside_c) == (pytest.approx(140), pytest.approx(120))
    assert row.pressure_kpa == pytest.approx(206.84, abs=0.01)
    assert "inside 140 °C, outside 120 °C, bags 207 kPa" in page_of(mine)
    assert "inside 284 °F, outside 248 °F, bags 30.0 psi" in page_of(mine, "technician")


@pytest.mark.parametrize(
    ("told", "fault"),
    [
        ({"inside": "hot"}, "inside pad: hot is no number"),
        ({}, "a reading needs a pad's temperature"),
        ({"inside": "900"}, "inside pad"),
    ],
)
def test_a_faulty_reading_says_why_and_is_not_kept(mine: Mine, told: dict[str, str], fault: str) -> None:
    run_add(published(mine), 3, at(8))
    status, words = tap(mine, "k1", action="reading", **told)
    assert status == 409
    assert fault in words
    assert not CureReading.objects.exists()


def test_a_photo_and_a_problem_sent_twice_are_kept_once(mine: Mine) -> None:
    run_add(published(mine), 3, at(8))
    picture = io.BytesIO()
    Image.new("RGB", (60, 40), "brown").save(picture, format="JPEG")
    photo = "data:image/jpeg;base64," + base64.b64encode(picture.getvalue()).decode()
    for _ in range(2):
        assert tap(mine, "k1", action="photo", words="pad edge", photo=photo)[0] == 200
        assert tap(mine, "k2", action="problem", words="pad lifts")[0] == 200
    assert InjuryPhoto.objects.get().words == "Cure: pad edge"
    assert AuditEvent.objects.filter(action="stage_problem").count() == 1


def test_a_photo_that_was_lost_on_its_way_says_so(mine: Mine) -> None:
    run_add(published(mine), 3, at(8))
    assert "take it again" in tap(mine, "k1", action="photo", photo="data:image/jpeg;base64,@@@")[1]


def begin_heat(mine: Mine, **told: str) -> tuple[int, str]:
    """The first tyre is rigged, and somebody taps the start of its heat-up."""
    plan = published(mine)
    planned = run_add(plan, 2, at(7))
    StageRun.objects.update(state="done", ended_at=at(8))
    damage = Damage.objects.get()
    heat_up = planned.stages[3].name
    return tap(mine, "k1", action="begin", stage=heat_up, damage=str(damage.pk), **told)


def test_who_starts_the_heat_attends_it_by_the_same_tap(mine: Mine) -> None:
    mine.users["technician"].technicians.set([])
    Technician.objects.filter(code="T1").update(user=mine.users["technician"])
    assert begin_heat(mine, technician="T1") == (200, "T1 attends it now.")
    assert TyreWatch.objects.get().signed_on_at == NOW


def test_heat_is_begun_on_record_though_its_starter_may_not_attend(mine: Mine) -> None:
    status, words = begin_heat(mine, technician="T1")
    assert status == 200
    assert words.startswith("It is begun, but nobody attends it: only T1")
    assert StageRun.objects.filter(state="running").count() == 1
    assert not TyreWatch.objects.exists()


@pytest.mark.parametrize(
    ("place", "tenths", "asks"), [(0, 0, True), (0, 9, False), (3, 9, True), (3, 10, False)]
)
def test_a_slip_is_asked_about(mine: Mine, place: int, tenths: int, asks: bool) -> None:
    """Hands-on work may end after four fifths of its time without a question, a cure only after all of it."""
    plan = published(mine)
    stage = plan_content_get(plan=plan).plan.schedule.jobs[0].stages[place]
    run_add(plan, place, NOW - timedelta(minutes=(stage.end - stage.start) * tenths / 10))
    assert ("Is it really done?" in page_of(mine)) is asks


def test_the_gauges_are_asked_for_by_the_sites_own_limit(mine: Mine) -> None:
    """Common practice is a reading every 15 min: begun at 08:50, by 09:05; begun at 08:00, since 08:15."""
    plan = published(mine, tyres=2)
    run_add(plan, 3, at(8, 50), job=0)
    run_add(plan, 3, at(8), job=1)
    page = page_of(mine)
    assert "to be read again by 09:05" in page
    assert "to be read since 08:15" in page


def test_a_part_of_the_page_is_refused_to_who_is_signed_out_and_never_shows_the_sign_in(mine: Mine) -> None:
    address = f"/at/{mine.site.code}/floor/"
    assert Client().get(address).status_code == 302
    assert Client().get(address, headers={"HX-Request": "true"}).status_code == 401
