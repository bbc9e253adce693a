"""The data of a release, kept for the next one: `python -m tests.lib.baseline fixtures/upgrade/NAME.sql.gz`.

Made once, when a release is cut, and never again: what it holds is what an upgrade meets.
"""

import gzip
import os
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

from django.db.backends.sqlite3._functions import register

ROOT = Path(__file__).resolve().parents[2]


def environment_of(folder: Path) -> dict[str, str]:
    """The embedded settings in a folder of their own."""
    return os.environ | {
        "DJANGO_SETTINGS_MODULE": "planner.config.settings.embedded",
        "TYREWRIGHT_VAR": str(folder),
        "TYREWRIGHT_TEST_POSTGRES": "",
    }


def manage(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """A command of `manage.py` on the folder's own database."""
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT, env=environment_of(folder), capture_output=True, text=True, check=False,
    )  # fmt: skip


def baseline_load(folder: Path, kept: Path) -> Path:
    """The database of a kept release, in the folder."""
    path = folder / "tyrewright.sqlite3"
    with closing(sqlite3.connect(path)) as database:
        register(database)  # a constraint may call what Django brings
        database.executescript(gzip.decompress(kept.read_bytes()).decode())
    return path


def baseline_make(kept: Path) -> None:
    """A small mine with an order in hand, written down as SQL."""
    with tempfile.TemporaryDirectory(prefix="tyrewright-baseline-") as name:
        folder = Path(name)
        os.environ |= environment_of(folder)
        import django

        django.setup()
        from django.core.management import call_command
        from django.db import connection

        call_command("migrate", verbosity=0)
        _fill()
        connection.close()
        with closing(sqlite3.connect(folder / "tyrewright.sqlite3")) as database:
            text = "\n".join(database.iterdump())
        kept.write_bytes(gzip.compress(text.encode(), mtime=0))


def _fill() -> None:
    from unittest.mock import patch

    from celery import current_app

    from planner.models import Position, Technician
    from planner.services.plan_build_run import plan_build_run
    from planner.services.plan_builds import plan_build_start
    from planner.services.plans import plan_publish
    from planner.services.stage_runs import stage_run_start
    from tests.lib.mine import at, mine_equipped

    mine = mine_equipped()
    orders = [mine.order(f"B-{number}") for number in range(3)]
    with patch.object(current_app, "send_task", lambda *_, **__: None):
        build = plan_build_start(
            user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=2
        )
        plan = plan_build_run(build_id=build.pk)
        assert plan is not None
        plan_publish(user=mine.supervisor, plan=plan, expected_number=None)
    stage_run_start(
        user=mine.supervisor, damage=orders[0].damages.get(), stage_name="Skive",
        technicians=[Technician.objects.get(code="T1")], position=Position.objects.get(code="P1"),
    )  # fmt: skip


if __name__ == "__main__":
    baseline_make(Path(sys.argv[1]))
