"""What a watcher of the service asks: alive, ready, figures; and the id that ties an answer to its log."""

import json
import logging

import pytest
from django.db import connection
from django.test import Client
from pytest_django import Settings

from planner.config.log_format import REQUEST_ID, JsonFormatter
from tests.lib.lost_broker import lose_broker


def test_alive_touches_no_database(client: Client) -> None:
    assert client.get("/healthz").json() == {"status": "ok"}


@pytest.mark.django_db
def test_ready_when_database_and_queue_answer(client: Client) -> None:
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["checks"]) == (200, {"database": "ok", "queue": "ok"})


@pytest.mark.django_db
def test_not_ready_while_a_migration_is_pending(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("delete from django_migrations where app = 'sessions'")
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["checks"]["database"]) == (503, "migrations are pending")


@pytest.mark.django_db
def test_lost_queue_is_named_without_its_address(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    lose_broker(monkeypatch)
    answer = client.get("/readyz")
    assert (answer.status_code, answer.json()["checks"]["queue"]) == (503, "unreachable")
    assert "127.0.0.1" not in answer.content.decode()


@pytest.mark.django_db
def test_figures_are_for_this_machine_or_a_token(client: Client, settings: Settings) -> None:
    assert b"tyrewright_requests_total" in client.get("/metrics").content
    assert client.get("/metrics", REMOTE_ADDR="192.0.2.1").status_code == 403
    settings.METRICS_TOKEN = "a token of the test"
    assert client.get("/metrics").status_code == 403
    assert client.get("/metrics", headers={"Authorization": "Bearer a token of the test"}).status_code == 200


@pytest.mark.django_db
def test_requests_are_counted_by_route(client: Client) -> None:
    def counted() -> float:
        lines = client.get("/metrics").content.decode().splitlines()
        wanted = 'tyrewright_requests_total{method="GET",route="healthz",status="200"}'
        return sum(float(line.split()[-1]) for line in lines if line.startswith(wanted))

    before = counted()
    client.get("/healthz")
    assert counted() == before + 1


@pytest.mark.parametrize(
    ("given", "kept"), [("0123abcd-feed", True), ("x\ny", False), ("<script>", False), ("", False)]
)
def test_request_id_is_kept_only_in_a_harmless_shape(client: Client, given: str, kept: bool) -> None:
    answer = client.get("/healthz", headers={"X-Request-ID": given})
    assert (answer["X-Request-ID"] == given) is kept
    assert len(answer["X-Request-ID"]) >= 8


def test_log_line_is_json_with_its_request() -> None:
    record = logging.LogRecord("tyrewright", logging.INFO, __file__, 1, "done %s", ("well",), None)
    record.user_id, record.email = 7, "nobody@bay.example"
    token = REQUEST_ID.set("0123abcd")
    line = json.loads(JsonFormatter().format(record))
    REQUEST_ID.reset(token)
    assert (line["message"], line["request_id"], line["user_id"]) == ("done well", "0123abcd", 7)
    assert "email" not in line
