"""A day over the API: registered, received, decided, planned, moved, published, done, asked again."""

import pytest

from planner.services.plan_build_run import plan_build_run
from planner.services.plan_replay_run import plan_replay_run
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine, at

# A build tells its progress from a thread of its own, which sees what is committed alone.
WITH_THREADS = pytest.mark.django_db(transaction=True)


@pytest.fixture
def draft(mine: Mine, supervisor: Caller, monkeypatch: pytest.MonkeyPatch) -> str:
    """The address of a draft with one tyre, built by the worker's own service."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine.order("T-1")
    wanted = {"start": at(6), "end": at(18, days=1), "seconds": 2}
    build = told(supervisor.post("sites/ridge/plan-builds/", wanted, idempotency_key="monday"))
    assert build["state"] == "queued"
    plan_build_run(build_id=build["id"])
    done = told(supervisor.get(f"sites/ridge/plan-builds/{build['id']}/"))
    assert done["state"] == "done", done["message"]
    return f"sites/ridge/plans/{done['plan']}/"


def test_a_tyre_is_registered_received_and_decided(mine: Mine, supervisor: Caller) -> None:
    tyre = told(supervisor.post("sites/ridge/tyres/", {"serial": "N-1", "size_as_written": "20.5 R25"}))
    assert tyre["size"] == "20.5R25"
    injury = {"zone": "sidewall", "length_mm": 100, "width_mm": 80, "depth_mm": 20}
    damage = told(supervisor.post(f"sites/ridge/tyres/{tyre['id']}/damage/", injury))
    order = supervisor.post(
        "sites/ridge/work-orders/", {"tyre": tyre["id"], "needed_by": "2099-01-01T06:00Z"}
    )
    assert (order.status_code, told(order)["code"]) == (201, "WO-0001")
    path = "sites/ridge/work-orders/1/"
    decided = supervisor.post(f"{path}moves/", {"move": "decide_to_repair"}, if_match=order["ETag"])
    assert told(decided)["state"] == "to_repair"
    place = f"sites/ridge/tyres/{tyre['id']}/damage/{damage['id']}/"
    read = supervisor.get(place)
    assert told(read)["work_order"] == 1
    sizes = {"length_mm": 120, "width_mm": 90, "depth_mm": 30}
    measured = supervisor.patch(place, sizes, if_match=read["ETag"])
    assert (told(measured)["source"], told(measured)["depth_mm"]) == ("measured", 30)


@WITH_THREADS
def test_a_draft_is_read_verified_and_published(draft: str, supervisor: Caller) -> None:
    problem, plan = told(supervisor.get(f"{draft}problem/")), told(supervisor.get(f"{draft}bay-plan/"))
    assert [job["id"] for job in problem["jobs"]] == ["WO-0001"]
    assert plan["problem_sha256"] == told(supervisor.get(draft))["problem_sha256"]
    assert told(supervisor.get(f"{draft}verdict/")) == {"holds": True, "breaches": []}
    tag = supervisor.get(draft)["ETag"]
    published = supervisor.post(f"{draft}publish/", {"expected_number": None}, if_match=tag)
    assert (told(published)["number"], told(published)["state"]) == (1, "published")
    late = supervisor.post(f"{draft}publish/", {"expected_number": None}, if_match=tag)
    assert late.status_code == 412
    kept = supervisor.send("DELETE", draft, None, if_match=published["ETag"])
    assert (kept.status_code, told(kept)["code"]) == (409, "wrong_state")


@WITH_THREADS
def test_the_odds_of_a_plan_are_those_of_its_replays(draft: str, supervisor: Caller) -> None:
    none_yet = supervisor.get(f"{draft}odds/")
    assert (none_yet.status_code, told(none_yet)["code"]) == (404, "not_found")
    plan_replay_run(plan_id=int(draft.split("/")[-2]), replays=50)
    odds = told(supervisor.get(f"{draft}odds/"))
    assert (odds["replays"], odds["measured"]) == (50, [])
    assert [job["job"] for job in odds["jobs"]] == ["WO-0001"]
    # Needed two days later than the plan has it ready: no spread of one day's work reaches that far.
    assert odds["jobs"][0]["in_time"] == 1.0
    assert odds["jobs"][0]["p50"] <= odds["jobs"][0]["p90"]
    assert told(supervisor.get(f"{draft}odds/")) == odds


@WITH_THREADS
def test_a_draft_is_changed_by_hand_and_a_bad_move_is_named(draft: str, supervisor: Caller) -> None:
    tag = supervisor.get(draft)["ETag"]
    locked = supervisor.post(f"{draft}lock/", {"job": "WO-0001"}, if_match=tag)
    assert locked.status_code == 201
    new = f"sites/ridge/plans/{told(locked)['id']}/"
    assert {each["job"] for each in told(supervisor.get(f"{new}problem/"))["locked"]} == {"WO-0001"}
    # The technicians go at 18:00, twelve hours after the start: nothing is rigged at minute 1200.
    move = {"job": "WO-0001", "stage": "Rig", "start": 1200}
    refused = supervisor.post(f"{draft}move/", move, if_match=tag)
    assert (refused.status_code, told(refused)["code"]) == (422, "refused")
    assert told(refused)["faults"]
    unknown = supervisor.post(f"{draft}put-first/", {"job": "WO-0009"}, if_match=tag)
    assert unknown.status_code in (404, 409)


def test_a_build_is_cancelled(mine: Mine, supervisor: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    wanted = {"start": at(6), "end": at(18)}
    build = told(supervisor.post("sites/ridge/plan-builds/", wanted))
    second = supervisor.post("sites/ridge/plan-builds/", wanted)
    assert (second.status_code, told(second)["code"]) == (409, "conflict")
    ended = supervisor.post(f"sites/ridge/plan-builds/{build['id']}/cancel/", {"why": "tyre called off"})
    assert told(ended)["state"] == "cancelled"


def test_a_technician_begins_and_ends_a_stage(mine: Mine) -> None:
    damage = mine.order("T-1").damages.get()
    technician = caller(mine.users["technician"])
    begun = {"tyre": damage.tyre_id, "damage": damage.pk, "stage": "Skive"}
    begun |= {"technicians": ["T1"], "position": "P1"}
    run = technician.post("sites/ridge/stage-runs/", begun, idempotency_key="tap-1")
    again = technician.post("sites/ridge/stage-runs/", begun, idempotency_key="tap-1")
    assert (run.status_code, told(again)["id"]) == (201, told(run)["id"])
    path = f"sites/ridge/stage-runs/{told(run)['id']}/"
    ended = technician.post(f"{path}finish/", {}, if_match=run["ETag"])
    assert told(ended)["state"] == "done"
    assert told(ended)["started_at"] <= told(ended)["ended_at"]


def test_a_technician_takes_a_slip_back(mine: Mine) -> None:
    damage = mine.order("T-1").damages.get()
    technician = caller(mine.users["technician"])
    begun = {"tyre": damage.tyre_id, "damage": damage.pk, "stage": "Skive"}
    begun |= {"technicians": ["T1"], "position": "P1"}
    run = technician.post("sites/ridge/stage-runs/", begun)
    path = f"sites/ridge/stage-runs/{told(run)['id']}/"
    wrong = technician.post(f"{path}take-back/", {"tap": "end"}, if_match=run["ETag"])
    assert (wrong.status_code, told(wrong)["code"]) == (409, "conflict")
    back = {"tap": "start", "why": "wrong tyre"}
    taken = technician.post(f"{path}take-back/", back, if_match=run["ETag"], idempotency_key="back-1")
    again = technician.post(f"{path}take-back/", back, if_match=run["ETag"], idempotency_key="back-1")
    assert (taken.status_code, told(again)) == (201, told(taken))
    assert technician.get(path).status_code == 404
    (row,) = told(technician.get("sites/ridge/stage-runs/taken-back/?work_order=1"))["results"]
    assert (row["stage"], row["tap"], row["why"]) == ("Skive", "start", "wrong tyre")
    assert row["taken_back_by"] == mine.users["technician"].username
