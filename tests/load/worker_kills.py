"""kill -9 of the worker at random moments: `python -m tests.load.worker_kills [--kills 20] [--seed 1]`.

With `--cluster FOLDER` PostgreSQL is stopped at once and started again instead, and the worker lives on: only
ever a cluster of your own (`initdb`, its port in PGPORT), and run by who owns it.
"""

import argparse
import random
import subprocess
import tempfile
import time
from datetime import timedelta
from pathlib import Path
from unittest.mock import patch

import django

from tests.load.scratch import scratch_drop, scratch_open

MOST_KILLS = 200
SECONDS_TO_BE_TAKEN_UP = 300


def main() -> None:
    """Kill, restart and build again, as often as asked; then everything must still be in order."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--postgres", action="store_true")
    parser.add_argument("--minutes", type=float, default=120.0, help="and no longer")
    parser.add_argument("--cluster", default="", help="folder of a PostgreSQL of your own, to restart")
    parser.add_argument("--pg-ctl", default="pg_ctl")
    parser.add_argument("--into", type=float, default=6.0, help="seconds into a build, at most")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            _run(Path(folder), min(asked.kills, MOST_KILLS), random.Random(asked.seed), asked)
        finally:
            _close()
            scratch_drop()


def _close() -> None:
    from django.db import connections

    connections.close_all()


def _run(folder: Path, kills: int, chance: random.Random, asked: argparse.Namespace) -> None:
    from celery import current_app

    from planner.models import PlanBuild
    from tests.lib.mine import mine_equipped
    from tests.lib.redis_worker import RedisWorker
    from tests.load.invariants import invariant_faults

    mine = mine_equipped()
    for number in range(4):
        mine.order(f"A{number}")
    worker, done, end = RedisWorker(folder / "worker.log"), 0, time.monotonic() + 60 * asked.minutes
    try:
        with patch.object(current_app, "send_task", worker.send):
            while done < kills and time.monotonic() < end:
                _one_life(mine, worker, chance.uniform(0.0, asked.into), asked)
                done += 1
    finally:
        worker.end()
    states = sorted(PlanBuild.objects.values_list("state", flat=True))
    broken = invariant_faults()
    print(f"{done} kills: { {state: states.count(state) for state in set(states)} }")
    print(f"invariants: {broken[:5] or 'hold'}")
    raise SystemExit(bool(broken))


def _one_life(mine: object, worker: object, seconds: float, asked: argparse.Namespace) -> None:
    """Ask for a plan, let the worker live a while, kill it, clear up as `beat` does, start another."""
    from planner.services.plan_builds import plan_build_reap, plan_build_start
    from tests.lib.mine import Mine, at
    from tests.lib.redis_worker import RedisWorker

    assert isinstance(mine, Mine) and isinstance(worker, RedisWorker)
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=4)
    _wait_while(build, {"queued"}, SECONDS_TO_BE_TAKEN_UP)
    time.sleep(seconds)
    if asked.cluster:
        command = [asked.pg_ctl, "-D", asked.cluster, "-m", "immediate", "-w", "-l", "/dev/null", "restart"]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        _close()
    else:
        worker.kill()
    plan_build_reap(silent_for=timedelta(0))
    if not asked.cluster:
        worker.start()


def _wait_while(build: object, states: set[str], seconds: float) -> None:
    from planner.models import PlanBuild

    assert isinstance(build, PlanBuild)
    deadline = time.monotonic() + seconds
    while build.state in states:
        assert time.monotonic() < deadline, f"the build is still {build.state}"
        time.sleep(0.02)
        build.refresh_from_db()


if __name__ == "__main__":
    main()
