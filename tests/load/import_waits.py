"""How long other changes wait for a large import: `python -m tests.load.import_waits --postgres`."""

import argparse
import multiprocessing
import tempfile
import time
from pathlib import Path
from typing import Any

import django

from tests.load.scratch import scratch_drop, scratch_open


def main() -> None:
    """Import machines and then prices by a file task, while somebody registers one tyre after another."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rows", type=int, default=30_000)
    parser.add_argument("--postgres", action="store_true")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="tyrewright-load-") as folder:
        scratch_open(Path(folder), postgres=asked.postgres)
        try:
            django.setup()
            faults = _imports(asked.rows)
        finally:
            _close()
            scratch_drop()
    raise SystemExit(bool(faults))


def _imports(rows: int) -> list[str]:
    from planner.domain.file_tasks import FileTaskKind
    from tests.lib.mine import mine_equipped
    from tests.load.invariants import invariant_faults
    from tests.load.killed_files import prices

    mine_equipped()
    lines = (f"M-{row:05},Loader {row:05},loader,27.00R49,10,0,yes" for row in range(rows))
    machines = "\n".join(("code,name,kind,tyre size,priority,hours run,active", *lines))
    _waits(FileTaskKind.SITE_IMPORT, "administrator", machines, {"sheet": "machines"})
    _waits(FileTaskKind.BOOKS_IMPORT, "accountant", prices(1, rows * 2 // 3), {"holds": "prices"})
    faults = invariant_faults()
    print(f"invariants: {faults[:5] or 'hold'}")
    return faults


def _waits(kind: Any, role: str, text: str, options: dict[str, Any]) -> None:
    """Try the file and keep it, and print both times with the longest that a registration took."""
    from unittest.mock import patch

    from celery import current_app

    from planner.models import Site, User
    from planner.services.file_tasks.asking import file_task_ask
    from planner.services.file_tasks.running import file_task_run

    _close()
    user, site, spawn = (
        User.objects.get(username=f"{role}-ridge"),
        Site.objects.get(),
        multiprocessing.get_context("spawn"),
    )
    for keep in (False, True):
        with patch.object(current_app, "send_task", lambda *_, **__: None):
            task = file_task_ask(
                user=user,
                site=site,
                kind=kind,
                name="f.csv",
                raw=text.encode(),
                options={**options, "keep": keep},
            )
        over, longest = spawn.Event(), spawn.Value("d", 0.0)
        writer = spawn.Process(target=_register, args=(over, longest, f"{kind}-{keep}"))
        writer.start()
        while not longest.value:
            time.sleep(0.05)
        longest.value = 0.001
        began = time.monotonic()
        file_task_run(task_id=task.pk)
        took = time.monotonic() - began
        over.set()
        writer.join()
        task.refresh_from_db()
        print(
            f"{kind}, {len(text) / 1e6:.1f} MB, keep {keep}: {task.state} {task.message[:200]} after"
            f" {took:.1f} s; a registration took {longest.value:.2f} s at most",
            flush=True,
        )


def _register(over: Any, longest: Any, name: str) -> None:
    django.setup()
    from planner.models import Site, User
    from planner.services.tyres import tyre_register

    user, site, count = User.objects.get(username="supervisor-ridge"), Site.objects.get(), 0
    while not over.wait(0.05):
        began = time.monotonic()
        tyre_register(user=user, site=site, serial=f"{name}-{count}", size_as_written="20.5R25")
        count += 1
        longest.value = max(longest.value, time.monotonic() - began)


def _close() -> None:
    from django.db import connections

    connections.close_all()


if __name__ == "__main__":
    main()
