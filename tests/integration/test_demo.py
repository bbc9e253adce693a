"""The one command that runs it all: it starts, keeps its data, and leaves nothing behind."""

import signal
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lib.demo_process import DemoProcess, job_queue


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path


@pytest.fixture
def demo(folder: Path) -> Iterator[DemoProcess]:
    started = DemoProcess(folder)
    yield started
    if started.process.poll() is None:
        started.process.kill()
        started.process.wait()


def _wait_for_no_worker(demo: DemoProcess) -> list[int]:
    deadline = time.monotonic() + 15
    while demo.workers() and time.monotonic() < deadline:
        time.sleep(0.1)
    return demo.workers()


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM])
def test_demo_serves_and_ends_with_its_worker(demo: DemoProcess, ending: int) -> None:
    demo.wait_until_serving()
    assert 'type="password"' in demo.get("/admin/login/")
    assert '"status": "ok"' in demo.get("/readyz")
    assert len(demo.workers()) == 1
    assert demo.end(ending) == 0
    assert demo.workers() == []


def test_worker_ends_when_the_demo_is_killed(demo: DemoProcess) -> None:
    demo.wait_until_serving()
    assert demo.end(signal.SIGKILL) == -signal.SIGKILL
    assert _wait_for_no_worker(demo) == []


def test_second_start_keeps_the_data(demo: DemoProcess, folder: Path) -> None:
    demo.wait_until_serving()
    demo.end(signal.SIGINT)
    before = _users(folder)
    with sqlite3.connect(folder / "tyrewright.sqlite3") as database:
        database.execute("update planner_user set first_name = 'kept'")
    again = DemoProcess(folder)
    again.wait_until_serving()
    again.end(signal.SIGINT)
    assert _users(folder) == [(name, "kept") for name, _ in before]


def test_taken_port_is_named(demo: DemoProcess, folder: Path) -> None:
    demo.wait_until_serving()
    (folder / "second").mkdir()
    second = DemoProcess(folder / "second", port=demo.port)
    assert second.process.wait(60) == 1
    assert f"Port {demo.port} is taken" in second.output.read_text()


def _users(folder: Path) -> list[tuple[str, str]]:
    with sqlite3.connect(folder / "tyrewright.sqlite3") as database:
        return database.execute("select username, first_name from planner_user order by username").fetchall()


def test_job_queued_while_nothing_ran_is_taken_up_at_the_next_start(tmp_path: Path) -> None:
    queued = job_queue(tmp_path)
    assert len(list(queued.iterdir())) == 1
    demo = DemoProcess(tmp_path)
    demo.wait_until_serving()
    deadline = time.monotonic() + 15
    while list(queued.iterdir()) and time.monotonic() < deadline:
        time.sleep(0.1)
    left = [path.name for path in queued.iterdir() if "celery.celery" in path.name or path.suffix == ".msg"]
    demo.end(signal.SIGINT)
    assert left == []
