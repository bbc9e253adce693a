"""The processes of ours as the compose file starts them, on PostgreSQL and Redis of their own."""

import http.client
import io
import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.lib.service_processes import STARTED, ServiceProcesses

pytestmark = [pytest.mark.redis, pytest.mark.postgres]
INSIDE = {"Host": "bay.example", "X-Forwarded-Proto": "https"}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServiceProcesses]:
    """All of them."""
    folder: Path = tmp_path_factory.mktemp("service")
    with ServiceProcesses(folder) as service:
        for name in ("messenger", "mailer", "worker"):
            service.wait_for(name, "ready.")
        deadline = time.monotonic() + 90
        while answered(service, "/healthz")[0] != 200:
            assert service.lives("web") and time.monotonic() < deadline
            time.sleep(0.1)
        yield service


def answered(
    service: ServiceProcesses, path: str, method: str = "GET", **headers: str
) -> tuple[int, dict[str, str], bytes]:
    """Status, headers and body; 0 where none came."""
    sent = INSIDE | {name.replace("_", "-"): value for name, value in headers.items()}
    line = http.client.HTTPConnection("127.0.0.1", service.port, timeout=30)
    try:
        line.request(method, path, "{}" if method == "POST" else None, sent)
        answer = line.getresponse()
        return answer.status, dict(answer.headers), answer.read()
    except OSError:
        return 0, {}, b""
    finally:
        line.close()


def test_it_is_ready_and_speaks_to_its_own_host_over_tls_alone(service: ServiceProcesses) -> None:
    assert answered(service, "/readyz")[0] == 200
    status, headers, _ = answered(service, "/sign-in/", X_Forwarded_Proto="http")
    assert (status, headers["Location"]) == (301, "https://bay.example/sign-in/")
    assert answered(service, "/sign-in/", Host="evil.example")[0] == 400
    status, headers, page = answered(service, "/sign-in/")
    assert (status, b"silas" in page, headers["Strict-Transport-Security"][:8]) == (200, False, "max-age=")
    assert "__Host-csrf" in headers["Set-Cookie"] and "Secure" in headers["Set-Cookie"]


def test_what_is_asked_of_the_web_is_done_by_the_worker(service: ServiceProcesses) -> None:
    told = ("--time-zone", "Australia/Perth", "--currency", "AUD", "--administrator", "adele")
    service.manage("site_open", "ridge", "Ridge mine", *told, typed="right-horse-9\n")
    words = service.manage(
        "api_token", "adele", "ridge", "test", "--may", "site_read", "--may", "site_change"
    )
    secret = next(word for word in words.split() if word.startswith("tyrewright_"))
    headers = {"Authorization": f"Bearer {secret}", "Content_Type": "application/json"}
    path = "/api/v1/sites/ridge/file-tasks/"
    status, _, body = answered(service, f"{path}site-exports/", "POST", **headers)
    assert status == 201, body
    task: dict[str, Any] = json.loads(body)
    deadline = time.monotonic() + 60
    while task["state"] not in ("done", "failed") and time.monotonic() < deadline:
        task = json.loads(answered(service, f"{path}{task['id']}/", **headers)[2])
        time.sleep(0.1)
    assert (task["state"], task["message"]) == ("done", "")
    book = answered(service, f"{path}{task['id']}/result/", **headers)[2]
    assert "heater sets" in load_workbook(io.BytesIO(book)).sheetnames


def test_the_clock_sends_and_the_messenger_does_it(service: ServiceProcesses) -> None:
    """Every 30 s it looks for hot tyres that nobody attends."""
    service.wait_for("beat", "watch alarms")
    service.wait_for("messenger", "planner.tasks.watch_alarms")
    assert all(service.lives(name) for name in STARTED)


def test_each_ends_in_order_when_it_is_asked_to(service: ServiceProcesses) -> None:
    assert {name: service.end(name) for name in reversed(STARTED)} == dict.fromkeys(STARTED, 0)
