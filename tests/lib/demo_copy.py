"""The demo site in a test's own database: loaded once for a run and a day, copied from then on."""

import fcntl
import os
import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from django.db import connection

from planner.services.demo_site import demo_site_load


def demo_fill(temporary: pytest.TempPathFactory, today: date) -> None:
    """Fill the empty database of a test that runs in no transaction; on PostgreSQL the demo is loaded anew.

    Loading takes seconds, copying does not. Of several test processes, one loads and the others wait for it.
    """
    if connection.vendor != "sqlite":
        demo_site_load(today=today)
        return
    kept = _shared(temporary) / f"demo-{today}.sqlite3"
    connection.ensure_connection()
    with kept.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if kept.exists():
            with closing(sqlite3.connect(kept)) as source:
                source.backup(connection.connection)
            return
        demo_site_load(today=today)
        made = kept.with_suffix(".made")
        with closing(sqlite3.connect(made)) as copy:
            connection.connection.backup(copy)
        made.rename(kept)


def _shared(temporary: pytest.TempPathFactory) -> Path:
    """A folder of this run that its processes share; pytest-xdist gives each one below it."""
    own = temporary.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
