"""The floor, the plan's reasons and levers, and the books over the API."""

import base64
import csv
import io
from typing import Any

import pytest
from openpyxl import load_workbook

from planner.domain.permissions import Role
from planner.models import AuditEvent, CostPrice, Damage, HeaterSet, StageRun, Technician
from planner.services.plan_build_run import plan_build_run
from tests.lib.api import Caller, caller, told
from tests.lib.books import Books, books
from tests.lib.mine import Mine, at


@pytest.fixture
def hot(mine: Mine) -> int:
    """The injury of a tyre that is being cured."""
    order = mine.order("A1")
    damage = Damage.objects.get(work_order=order)
    Technician.objects.filter(code="T1").update(user=mine.users["technician"])
    StageRun.objects.create(
        site=mine.site, work_order=order, damage=damage, sequence=4, name="Cure", state="running",
        started_at=at(7), heater_set=HeaterSet.objects.get(code="H1"),
    )  # fmt: skip
    return damage.pk


def test_a_hot_tyre_is_attended_handed_over_and_left(mine: Mine, hot: int, supervisor: Caller) -> None:
    technician, path = caller(mine.users["technician"]), f"sites/ridge/attendance/{hot}/"
    assert told(technician.get("sites/ridge/attendance/"))["results"][0]["alarm"]
    on = technician.post(f"{path}sign-on/", {"technician": "T1"})
    assert (on.status_code, told(on)["technician"], told(on)["alarm"]) == (201, "T1", "")
    assert technician.post(f"{path}sign-on/", {"technician": "T2"}).status_code == 403
    asked = technician.post(f"{path}hand-over/", {"technician": "T2"}, if_match=on["ETag"])
    assert told(asked)["handed_to"] == "T2"
    assert technician.post(f"{path}sign-off/", None, if_match=on["ETag"]).status_code == 412
    taken = supervisor.post(f"{path}sign-on/", {"technician": "T2"})
    assert told(taken)["technician"] == "T2"
    left = supervisor.post(f"{path}sign-off/", None, if_match=taken["ETag"])
    assert "nobody attends it" in told(left)["alarm"]
    assert technician.get("sites/ridge/attendance/77/").status_code == 404


def test_the_bay_is_not_closed_over_a_hot_tyre(mine: Mine, hot: int, supervisor: Caller) -> None:
    steps = ["sets_off", "bags_empty", "pads_clear", "supply_isolated", "people_out"]
    assert supervisor.post("sites/ridge/bay-closings/", {"seen": steps}).status_code == 409
    StageRun.objects.all().delete()
    assert supervisor.post("sites/ridge/bay-closings/", {"seen": steps[1:]}).status_code == 422
    assert supervisor.post("sites/ridge/bay-closings/", {"seen": steps}).status_code == 201
    assert AuditEvent.objects.filter(action="bay_close").count() == 1


def test_a_problem_told_twice_with_one_key_stands_once(mine: Mine, supervisor: Caller) -> None:
    mine.order("A1")
    told_problem = {"job": "WO-0001", "stage": "Skive", "words": "buffer is blunt"}
    for _ in range(2):
        answer = supervisor.post("sites/ridge/stage-problems/", told_problem, idempotency_key="p1")
        assert answer.status_code == 201
    assert AuditEvent.objects.filter(action="stage_problem", why="buffer is blunt").count() == 1


def test_a_damaged_tyre_is_told_in_one_go(mine: Mine, supervisor: Caller) -> None:
    report = {
        "serial": "D-1", "size_as_written": "20.5 R25", "zone": "sidewall", "length_mm": 100, "width_mm": 80,
        "depth_mm": 20, "needed_by": "2099-01-01T06:00Z",
    }  # fmt: skip
    order = supervisor.post("sites/ridge/damage-reports/", report)
    assert (order.status_code, told(order)["state"]) == (201, "to_repair")
    twice = supervisor.post("sites/ridge/damage-reports/", report)
    assert (twice.status_code, "stands in the queue already" in told(twice)["detail"]) == (422, True)


@pytest.mark.django_db(transaction=True)
def test_a_plan_tells_its_reasons_promises_and_levers(
    mine: Mine, supervisor: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    queued: list[Any] = []
    monkeypatch.setattr("celery.current_app.send_task", lambda name, **_: queued.append(name))
    for serial in ("A1", "A2"):
        mine.order(serial, needed_by=at(14))
    wanted = {"start": at(6), "end": at(18), "seconds": 2, "stability": None}
    build = told(supervisor.post("sites/ridge/plan-builds/", wanted))
    plan = plan_build_run(build_id=build["id"])
    assert plan is not None
    path = f"sites/ridge/plans/{plan.pk}/"
    reasons = told(supervisor.get(f"{path}reasons/"))
    causes = reasons["left_out"] + reasons["late"]
    assert causes and all(cause["message"] for each in causes for cause in each["reasons"])
    assert told(supervisor.get("sites/ridge/promises/"))["results"] == []
    supervisor.post(f"{path}publish/", {"expected_number": None}, if_match=supervisor.get(path)["ETag"])
    promises = told(supervisor.get("sites/ridge/promises/"))["results"]
    assert [promise["work_order"] for promise in promises] == ["WO-0001", "WO-0002"]
    assert all(promise["ready_at"] or promise["reasons"] for promise in promises)
    assert supervisor.get(f"{path}levers/").status_code == 404
    asked = supervisor.post(f"{path}levers/", {"seconds": 1})
    assert (asked.status_code, told(asked)["state"], queued[-1]) == (
        201,
        "queued",
        "planner.tasks.lever_baseline",
    )
    assert "position:C1" in {trial["lever"] for trial in told(asked)["trials"]}
    assert told(supervisor.post(f"{path}levers/cancel/"))["state"] == "cancelled"
    assert supervisor.post(f"{path}odds/").status_code == 202


@pytest.fixture
def kept(db: None) -> Books:
    """A site with prices, assumptions and one damaged tyre."""
    return books()


def test_a_file_of_prices_is_previewed_then_imported_once(kept: Books) -> None:
    accountant, path = caller(kept.accountant), "sites/gum-creek/imports/"
    heading = "kind,item,unit,amount,currency,effective from,source"
    lines = f"{heading}\nlabour,night crew,h,71.50,AUD,2099-01-01,offer\n"
    file = {"kind": "prices", "name": "p.csv", "content": base64.b64encode(lines.encode()).decode()}
    assert (told(accountant.post(f"{path}preview/", file))["added"], CostPrice.objects.count()) == (
        1, count := CostPrice.objects.count(),
    )  # fmt: skip
    assert told(accountant.post(path, file))["added"] == 1
    assert told(accountant.post(path, file))["unchanged"] == 1
    assert CostPrice.objects.count() == count + 1
    bad = {**file, "content": base64.b64encode(lines.replace("71.50", "dear").encode()).decode()}
    faults = told(accountant.post(f"{path}preview/", bad))["faults"]
    assert [(fault["row"], fault["column"]) for fault in faults] == [(2, "amount")]
    assert accountant.post(path, bad).status_code == 422


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_an_export_over_the_api_is_the_pages_own(kept: Books, kind: str) -> None:
    supervisor = caller(kept.people[Role.SUPERVISOR])
    answer = supervisor.get(f"sites/gum-creek/repairs/export/?kind={kind}")
    assert answer["Content-Disposition"] == f'attachment; filename="repairs-gum-creek.{kind}"'
    if kind == "csv":
        first = next(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    else:
        sheet = load_workbook(io.BytesIO(answer.content)).worksheets[0]
        first = [str(cell) for cell in next(sheet.iter_rows(values_only=True))]
    assert first[:2] == ["Order", "Tyre"]
    assert told(supervisor.get("sites/gum-creek/repairs/"))["results"] == []
