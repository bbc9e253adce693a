"""The database's guard over audit events, lifted for tests that play the intruder."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module

from django.db import connection

_guards = import_module("planner.migrations.0002_audit_events_stay")


@contextmanager
def guard_off() -> Iterator[None]:
    """Within it the events can be tampered with, as by somebody who owns the database."""
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            # What waits for the transaction's end would keep the table from being altered.
            cursor.execute("set constraints all immediate")
            cursor.execute("alter table planner_auditevent disable trigger user")
            yield
            cursor.execute("alter table planner_auditevent enable trigger user")
        else:
            cursor.execute("drop trigger audit_event_unchanged")
            yield
            cursor.execute(_guards.GUARDS["sqlite"][0])


def allow_removal() -> None:
    """Let Django empty guarded tables between tests on SQLite; PostgreSQL truncates, past the guards."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("select name from sqlite_master where type = 'trigger'")
            for (name,) in cursor.fetchall():
                if name.endswith("_not_removed"):
                    cursor.execute(f"drop trigger {name}")


def guard_removal() -> None:
    """Put the guard of an installation back for one test; its transaction takes it away again."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute(_guards.GUARDS["sqlite"][1])
