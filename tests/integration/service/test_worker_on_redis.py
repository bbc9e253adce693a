"""A worker on Redis builds a plan by the task's name, and one that is killed leaves nothing half done."""

import os
import signal
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from planner.models import Plan, PlanBuild
from planner.scheduling.verify import verify
from planner.selectors.plans import plan_content_get
from planner.services.audit import audit_chain_faults
from planner.services.plan_builds import plan_build_reap, plan_build_start
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.redis_worker import RedisWorker

pytestmark = [pytest.mark.redis, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def mine() -> Mine:
    mine = mine_equipped()
    for serial in ("A1", "A2", "A3"):
        mine.order(serial)
    return mine


@pytest.fixture
def worker(mine: Mine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[RedisWorker]:
    worker = RedisWorker(tmp_path / "worker.log")
    monkeypatch.setattr("celery.current_app.send_task", worker.send)
    yield worker
    worker.end()


def ask(mine: Mine, seconds: int = 2, days: int = 1) -> PlanBuild:
    return plan_build_start(
        user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=days), seconds=seconds
    )


def wait(build: PlanBuild, until: Callable[[PlanBuild], bool]) -> None:
    deadline = time.monotonic() + 60
    while not until(build):
        assert time.monotonic() < deadline, (build.state, build.message)
        time.sleep(0.02)
        build.refresh_from_db()


def is_over(build: PlanBuild) -> bool:
    return build.state not in {"queued", "running"}


def test_a_plan_comes_back_from_the_worker(mine: Mine, worker: RedisWorker) -> None:
    build = ask(mine)
    wait(build, is_over)
    assert (build.state, build.message) == ("done", "")
    content = plan_content_get(plan=Plan.objects.get(build=build))
    assert verify(content.problem, content.plan) == ()
    assert len(content.plan.schedule.jobs) == 3


def test_a_worker_killed_in_the_middle_leaves_nothing_half_written(mine: Mine, worker: RedisWorker) -> None:
    build = ask(mine, seconds=60)
    wait(build, lambda row: row.state == "running")
    worker.kill()
    build.refresh_from_db()
    assert (build.state, Plan.objects.count()) == ("running", 0)
    assert plan_build_reap(silent_for=timedelta(0)) == 1
    build.refresh_from_db()
    assert (build.state, Plan.objects.count()) == ("failed", 0)
    assert "stopped in the middle" in build.message

    worker.start()
    again = ask(mine)
    wait(again, is_over)
    assert (again.state, Plan.objects.count()) == ("done", 1)
    assert audit_chain_faults(site=mine.site) == ()


def test_a_search_has_a_second_process_below_a_daemonic_one_outlives_it_and_ends_with_its_worker(
    mine: Mine, worker: RedisWorker
) -> None:
    # Beyond four days the walk takes most of the time; needed at once, so that there is lateness to win.
    mine.order("B1", needed_by=at(7), received_at=at(6))
    build = ask(mine, seconds=5, days=5)
    wait(build, lambda _: bool(worker.search_processes()))
    (process,) = worker.search_processes()
    os.kill(process, signal.SIGKILL)
    wait(build, is_over)
    assert (build.state, build.message) == ("done", "")
    assert f"improvement worker {process} died with code -9" in worker.log
    content = plan_content_get(plan=Plan.objects.get(build=build))
    assert verify(content.problem, content.plan) == ()
    assert worker.search_processes() == []

    # A worker that is killed takes the processes of its search with it.
    second = ask(mine, seconds=60, days=5)
    wait(second, lambda _: bool(worker.search_processes()))
    (process,) = worker.search_processes()
    worker.kill()
    deadline = time.monotonic() + 30
    while Path(f"/proc/{process}").exists() and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not Path(f"/proc/{process}").exists()
