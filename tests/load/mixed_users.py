"""Users of three roles on pages and API while plans are built: `python -m tests.load.mixed_users`.

gunicorn, a worker and the database are real; `--postgres` takes PostgreSQL instead of SQLite. Bounded in
users and time, and only ever on the loopback.
"""

import argparse
import http.client
import random
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import quantiles
from unittest.mock import patch

import django

from tests.load.scratch import ROOT, scratch_drop, scratch_open

MOST_USERS = 100
MOST_SECONDS = 300.0
PAGES = {
    "supervisor": ["", "queue/", "plan/", "alarm/"],
    "planner": ["", "queue/", "bay/", "alarm/"],
    "technician": ["", "floor/", "alarm/"],
}
API = ["work-orders/", "tyres/", "plans/"]
Answer = tuple[str, int, float]
"""A page, the status of its answer, and how long it took [s]."""


def main() -> None:
    """Serve, let the users click, and say how long their answers took."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--users", type=int, default=100)
    parser.add_argument("--seconds", type=float, default=300)
    parser.add_argument("--postgres", action="store_true")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        environment = scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            with serving(environment) as (port, _):
                _run(Path(folder), port, min(asked.users, MOST_USERS), min(asked.seconds, MOST_SECONDS))
        finally:
            scratch_drop()


@contextmanager
def serving(environment: dict[str, str]) -> Iterator[tuple[int, int]]:
    """Gunicorn with two processes of eight threads: its port, and the process that keeps the others."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    words = ["--bind", f"127.0.0.1:{port}", "--workers", "2", "--threads", "8", "--log-level", "error"]
    words += ["--limit-request-line", "8190"]
    server = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", "planner.config.wsgi", *words], cwd=ROOT, env=environment
    )
    try:
        _wait(port)
        yield port, server.pid
    finally:
        server.terminate()
        server.wait(30)


def _wait(port: int) -> None:
    deadline = time.monotonic() + 90
    while time.monotonic() < deadline:
        if _get(port, "/healthz", "none") == 200:
            return
        time.sleep(0.2)
    raise SystemExit("The server did not start.")


def _run(folder: Path, port: int, users: int, seconds: float) -> None:
    from celery import current_app

    from tests.lib.redis_worker import RedisWorker
    from tests.load.bay_users import bay_open, plan_ask

    bay = bay_open(users, tuple(PAGES))
    worker = RedisWorker(folder / "worker.log")
    results: list[Answer] = []
    end = time.monotonic() + seconds
    arguments = [(port, role, session, end, results) for role, session in bay.sessions]
    threads = [threading.Thread(target=_use, args=each) for each in arguments]
    try:
        for thread in threads:
            thread.start()
        with patch.object(current_app, "send_task", worker.send):
            while time.monotonic() < end:
                plan_ask(bay)
                time.sleep(1)
        for thread in threads:
            thread.join()
    finally:
        worker.end()
    _report(users, seconds, results)


def _use(port: int, role: str, session: str, end: float, results: list[Answer]) -> None:
    """One user: a page or a list of the API, a moment's thought, and again."""
    chance = random.Random(session)
    pages = [f"/at/ridge/{page}" for page in PAGES[role]] + [f"/api/v1/sites/ridge/{page}" for page in API]
    time.sleep(chance.uniform(0, 2))
    while time.monotonic() < end:
        page, began = chance.choice(pages), time.monotonic()
        results.append((page, _get(port, page, session), time.monotonic() - began))
        time.sleep(chance.uniform(2, 6))


def _get(port: int, path: str, session: str) -> int:
    """The status of the answer; 0 where there was none."""
    try:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        connection.request("GET", path, headers={"Cookie": f"sessionid={session}"})
        answer = connection.getresponse()
        answer.read()
        connection.close()
    except OSError:
        return 0
    return answer.status


def _report(users: int, seconds: float, results: list[Answer]) -> None:
    wrong = [status for _, status, _ in results if status not in (200, 204)]
    print(f"{users} users, {seconds:.0f} s: {len(results)} answers, {len(wrong)} wrong {sorted(set(wrong))}")
    print(f"all of them: {_marks(results)}")
    for page in sorted({page for page, _, _ in results}):
        print(f"{page}: {_marks([each for each in results if each[0] == page])}")
    raise SystemExit(bool(wrong))


def _marks(results: list[Answer]) -> str:
    marks = quantiles([taken for _, _, taken in results], n=100)
    return f"p50 {marks[49] * 1000:.0f} ms, p95 {marks[94] * 1000:.0f} ms, p99 {marks[98] * 1000:.0f} ms"


if __name__ == "__main__":
    main()
