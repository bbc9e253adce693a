"""One import of a site at a time, while its other changes go on."""

from django.db import connection

from planner.models import Site

_IMPORTS = 20_261_128
"""Tells this lock from others that somebody may take on the same database."""


def import_alone(site: Site) -> None:
    """Wait for an import of the site that goes on, and keep others out until the transaction ends.

    SQLite has one place to write, so nothing more is needed there.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("select pg_advisory_xact_lock(%s, %s)", [_IMPORTS, site.pk])
