"""kill -9 in the middle of other work than plans: `python -m tests.load.work_kills levers --kills 20`.

`levers`, `odds` and `files` lose their worker; `redis` loses the queue under a worker that lives on (a Redis
of its own); `imports` lose every web process, `archives` the command that writes or restores. Afterwards
nothing may be running for ever, and everything must be whole.
"""

import argparse
import random
import tempfile
from pathlib import Path

import django

from tests.load.scratch import scratch_drop, scratch_open

MOST_KILLS = 100
WORKS = ("levers", "odds", "files", "redis", "imports", "archives")


def main() -> None:
    """Kill as often as asked, let what is left come to its end, and look at everything."""
    parser = argparse.ArgumentParser()
    parser.add_argument("work", choices=WORKS)
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--into", type=float, default=4.0, help="seconds into the work, at most")
    parser.add_argument("--postgres", action="store_true")
    asked = parser.parse_args()
    kills, chance = min(asked.kills, MOST_KILLS), random.Random(asked.seed)
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as name:
        environment = scratch_open(Path(name), postgres=asked.postgres)
        try:
            django.setup()
            faults = _run(
                asked.work, Path(name), environment, [chance.uniform(0, asked.into) for _ in range(kills)]
            )
        finally:
            _close()
            scratch_drop()
    print(f"{asked.work}: {kills} kills; {faults[:5] or 'everything is whole'}", flush=True)
    raise SystemExit(bool(faults))


def _run(work: str, folder: Path, environment: dict[str, str], moments: list[float]) -> list[str]:
    from tests.load.invariants import invariant_faults
    from tests.load.killed_files import archives_killed, imports_killed
    from tests.load.killed_tasks import files_killed, levers_killed, odds_killed, redis_killed

    if work == "imports":
        faults = imports_killed(environment, moments)
    elif work == "archives":
        faults = archives_killed(folder, moments)
    else:
        killed = {
            "levers": levers_killed, "odds": odds_killed, "files": files_killed, "redis": redis_killed,
        }[work]  # fmt: skip
        faults = killed(folder, moments)
    return faults + invariant_faults()


def _close() -> None:
    from django.db import connections

    connections.close_all()


if __name__ == "__main__":
    main()
