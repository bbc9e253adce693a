"""The one command that runs it all: it starts, keeps its data, and leaves nothing behind."""

import shutil
import signal
import socket
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.lib.demo_process import DemoProcess, job_queue


@pytest.fixture(scope="module")
def first_start(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a demo that was started once, from nothing, and ended in order."""
    folder = tmp_path_factory.mktemp("first")
    with _running(folder) as demo:
        demo.wait_until_serving()
        assert demo.end(signal.SIGINT) == 0
    return folder


@pytest.fixture
def folder(first_start: Path, tmp_path: Path) -> Path:
    """A folder of the test's own, where a demo was started before."""
    return Path(shutil.copytree(first_start, tmp_path / "demo"))


@pytest.fixture
def demo(folder: Path) -> Iterator[DemoProcess]:
    with _running(folder) as started:
        yield started


@contextmanager
def _running(folder: Path, port: int | None = None) -> Iterator[DemoProcess]:
    started = DemoProcess(folder, port=port)
    try:
        yield started
    finally:
        if started.process.poll() is None:
            started.process.kill()
            started.process.wait()


def _wait_for_no_worker(demo: DemoProcess) -> list[int]:
    deadline = time.monotonic() + 60
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


def test_second_start_keeps_the_data(folder: Path) -> None:
    before = _users(folder)
    with sqlite3.connect(folder / "tyrewright.sqlite3") as database:
        database.execute("update planner_user set first_name = 'kept'")
    with _running(folder) as again:
        again.wait_until_serving()
    assert before
    assert _users(folder) == [(name, "kept") for name, _ in before]


def test_taken_port_is_named_before_anything_is_made(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "second").mkdir()
    with socket.socket() as taker:
        taker.bind(("127.0.0.1", 0))
        taker.listen()
        port = taker.getsockname()[1]
        with _running(tmp_path / "second", port) as second:
            assert second.process.wait(120) == 1
    assert f"Port {port} is taken" in second.output.read_text()
    assert not (tmp_path / "second" / "tyrewright.sqlite3").exists()


def _users(folder: Path) -> list[tuple[str, str]]:
    with sqlite3.connect(folder / "tyrewright.sqlite3") as database:
        return database.execute("select username, first_name from planner_user order by username").fetchall()


def test_job_queued_while_nothing_ran_is_taken_up_at_the_next_start(folder: Path) -> None:
    queued = job_queue(folder)
    assert len(list(queued.iterdir())) == 1
    with _running(folder) as demo:
        demo.wait_until_serving()
        deadline = time.monotonic() + 60
        while list(queued.iterdir()) and time.monotonic() < deadline:
            time.sleep(0.1)
    assert [path.name for path in queued.iterdir() if path.suffix == ".msg"] == []
