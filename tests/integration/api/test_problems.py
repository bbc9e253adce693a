"""Errors are problem details (RFC 9457): one shape, every fault with its place, nothing changed."""

import json

import pytest
from django.test import Client

from planner.models import Tyre
from planner.scheduling.problem_format import problem_write
from tests.lib.api import Caller, caller, told
from tests.lib.bays import bay
from tests.lib.mine import Mine

MEMBERS = {"type", "title", "status", "code", "detail", "faults"}


def test_every_fault_of_a_body_is_named(supervisor: Caller) -> None:
    refused = supervisor.post("sites/ridge/tyres/", {"serial": "", "hours_run": -1})
    assert (refused.status_code, refused["Content-Type"]) == (422, "application/problem+json")
    problem = told(refused)
    assert set(problem) == MEMBERS
    assert {fault["place"] for fault in problem["faults"]} == {"serial", "size_as_written", "hours_run"}
    assert (problem["title"], problem["status"]) == ("Unprocessable Entity", 422)
    assert not Tyre.objects.exists()


@pytest.mark.parametrize(
    ("path", "status", "code"),
    [
        ("sites/ridge/tyres/77/", 404, "not_found"),
        ("sites/ridge/nothing-here/", 404, "not_found"),
        ("sites/ridge/tyres/99999999999999999999/", 404, "not_found"),
        ("nothing/at/all", 404, "not_found"),
        ("sites/ridge/tyres/?search=%00", 422, "invalid"),
        ("sites/ridge/tyres/?page=99999999999999999999", 404, "not_found"),
        ("sites/ridge/work-orders/?state=unheard", 422, "invalid"),
    ],
)
def test_an_address_without_an_answer_says_so(supervisor: Caller, path: str, status: int, code: str) -> None:
    answer = supervisor.get(path)
    assert (answer.status_code, told(answer)["code"]) == (status, code)
    assert answer["Content-Type"] == "application/problem+json"


@pytest.mark.parametrize(
    ("body", "kind", "status"),
    [
        (b"{", "application/json", 400),
        (b"\xff\xfe", "application/json", 400),
        (b"[1]", "application/json", 422),
        (b'{"serial": NaN}', "application/json", 400),
        (b"[" * 200_000, "application/json", 400),
        (b'{"serial":' * 50_000, "application/json", 400),
        (b'{"serial": ' + b"9" * 5000 + b"}", "application/json", 400),
        (b"<tyre/>", "application/xml", 415),
        (b"serial=S", "application/x-www-form-urlencoded", 415),
        (b"--x--", "multipart/form-data; boundary=x", 415),
        (b"{}", "application/json; charset=utf-7", 422),
        (b"{}", "application/json; charset=unheard", 422),
        (b'{"serial": "S", "size_as_written": "27.00R49", "ply_rating": 1e400}', "application/json", 400),
        (b'{"serial": "S", "size_as_written": "27.00R49", "machine": -1e400}', "application/json", 400),
        (b'{"serial": "S", "size_as_written": "27.00R49", "machine": Infinity}', "application/json", 400),
        (b'{"serial": "\\ud800", "size_as_written": "27.00R49"}', "application/json", 422),
        (b'{"serial": "a\\u0000", "size_as_written": "27.00R49"}', "application/json", 422),
    ],
    ids=lambda part: str(part)[:40],
)
def test_a_body_that_cannot_be_taken_is_refused(mine: Mine, body: bytes, kind: str, status: int) -> None:
    client = Client()
    client.force_login(mine.supervisor)
    answer = client.generic("POST", "/api/v1/sites/ridge/tyres/", body, content_type=kind)
    assert answer.status_code == status
    assert answer["Content-Type"] == "application/problem+json"
    assert not Tyre.objects.exists()


def test_a_body_too_large_is_refused(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.supervisor)
    body = b'{"serial": "' + b"x" * (10 * 1024 * 1024) + b'"}'
    answer = client.post("/api/v1/sites/ridge/tyres/", body, content_type="application/json")
    assert answer.status_code == 413
    assert json.loads(answer.content)["code"] == "too_large"


def test_a_move_that_does_not_lead_on_is_a_conflict(mine: Mine, supervisor: Caller) -> None:
    mine.order("T-1")
    path = "sites/ridge/work-orders/1/"
    tag = supervisor.get(path)["ETag"]
    refused = supervisor.post(f"{path}moves/", {"move": "release"}, if_match=tag)
    assert (refused.status_code, told(refused)["code"]) == (409, "wrong_state")
    assert "possible now" in told(refused)["detail"]


def test_a_session_needs_its_csrf_token(mine: Mine) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(mine.supervisor)
    answer = client.post("/api/v1/sites/ridge/tyres/", b"{}", content_type="application/json")
    assert answer.status_code == 403
    assert "CSRF" in json.loads(answer.content)["detail"]


def test_a_method_that_is_not_there_says_which_are(supervisor: Caller) -> None:
    answer = supervisor.send("PUT", "sites/ridge/tyres/", {})
    assert (answer.status_code, answer["Allow"]) == (405, "GET, POST, HEAD, OPTIONS")
    assert told(answer)["code"] == "method_not_allowed"


def test_every_fault_of_a_bay_problem_has_its_place(supervisor: Caller) -> None:
    whole = json.loads(problem_write(bay()))
    good = supervisor.post("sites/ridge/problems/check/", whole)
    assert (good.status_code, told(good)["jobs"]) == (200, 1)
    whole["jobs"][0]["priority"] = 0
    bad = supervisor.post("sites/ridge/problems/check/", whole)
    assert bad.status_code == 422
    assert [fault["place"] for fault in told(bad)["faults"]] == ["jobs[0].priority"]


def test_nobody_learns_whether_a_site_is_there(mine: Mine) -> None:
    stranger = caller(mine.supervisor)
    here, nowhere = stranger.get("sites/valley/"), caller(None).get("sites/ridge/")
    assert (here.status_code, nowhere.status_code) == (404, 401)


def test_a_fault_of_ours_has_the_same_shape(supervisor: Caller, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(**_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("api.tyres.views.tyre_list", fails)
    answer = supervisor.get("sites/ridge/tyres/")
    assert (answer.status_code, answer["Content-Type"]) == (500, "application/problem+json")
    assert set(told(answer)) == MEMBERS
    assert "ZeroDivision" not in answer.content.decode()
