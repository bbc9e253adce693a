"""What was signed never changes: the model, its rows and the database each refuse."""

from datetime import UTC, datetime

import pytest
from django.apps import apps
from django.db import DatabaseError, connection, transaction

from planner.domain.cure_reading import GaugeReading
from planner.domain.errors import ConflictError
from planner.models import CureReading
from planner.models.base import WrittenOnce
from planner.services.cure_readings import cure_reading_add
from tests.integration.cure_site import CureSite

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 8, 3, 4, 0, tzinfo=UTC)


@pytest.fixture
def row() -> CureReading:
    bay = CureSite()
    return cure_reading_add(
        user=bay.technician, damage=bay.damage, reading=GaugeReading(inside=104), taken_at=NOON
    )


def guarded_tables() -> set[str]:
    """The tables whose rows the database refuses to change."""
    query = {
        "sqlite": "select tbl_name from sqlite_master where type = 'trigger' and name like '%_unchanged'",
        "postgresql": "select relname from pg_trigger join pg_class on pg_class.oid = tgrelid "
        "where tgname like '%_unchanged'",
    }[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(query)
        return {str(name) for (name,) in cursor.fetchall()}


def test_every_row_that_is_written_once_is_guarded_by_the_database() -> None:
    """A later migration that makes such a table anew on SQLite loses the guard, and is found here."""
    once = {model._meta.db_table for model in apps.get_models() if issubclass(model, WrittenOnce)}
    assert len(once) >= 7
    assert once <= guarded_tables()


def test_sql_cannot_change_what_was_signed(row: CureReading) -> None:
    update = "update planner_curereading set inside_c = 140"
    refused = pytest.raises(DatabaseError, match="only ever added to")
    with refused, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(update)
    row.refresh_from_db()
    assert row.inside_c == 104


def test_the_model_and_its_rows_refuse_as_well(row: CureReading) -> None:
    for change in (row.save, row.delete, CureReading.objects.all().delete):
        with pytest.raises(ConflictError):
            change()
    with pytest.raises(ConflictError):
        CureReading.objects.update(inside_c=140)
