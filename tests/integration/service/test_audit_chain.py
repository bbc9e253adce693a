"""Audit events are only ever added, and a command proves that."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import DatabaseError, connection
from django.db.models import QuerySet

from planner.domain.errors import ConflictError
from planner.models import AuditEvent
from tests.lib.audit_guard import guard_off, guard_removal
from tests.lib.mine import mine_open

pytestmark = pytest.mark.django_db


def check() -> str:
    out = StringIO()
    call_command("audit_chain_check", stdout=out)
    return out.getvalue()


def test_whole_chains_are_counted() -> None:
    first, second = mine_open("ridge"), mine_open("basin")
    lengths = [AuditEvent.objects.filter(site=mine.site).count() for mine in (first, second)]
    assert check() == (f"ridge: {lengths[0]} events, chain whole\nbasin: {lengths[1]} events, chain whole\n")


def test_a_broken_chain_is_named_and_the_others_still_checked() -> None:
    first, _second = mine_open("ridge"), mine_open("basin")
    with guard_off():
        QuerySet(AuditEvent).filter(site=first.site, sequence=3).update(what="nothing")
    with pytest.raises(CommandError, match=r"ridge: event 3 was changed") as fault:
        check()
    assert "basin" not in str(fault.value)


def test_a_row_neither_saves_again_nor_goes() -> None:
    mine_open()
    event = AuditEvent.objects.all()[0]
    for refused in (event.save, event.delete, AuditEvent.objects.all().delete):
        with pytest.raises(ConflictError):
            refused()
    with pytest.raises(ConflictError):
        AuditEvent.objects.update(why="another")


@pytest.mark.parametrize(
    "statement", ["update planner_auditevent set why = 'another'", "delete from planner_auditevent"]
)
def test_the_database_itself_refuses(statement: str) -> None:
    mine_open()
    guard_removal()
    with pytest.raises(DatabaseError, match="only ever added"), connection.cursor() as cursor:
        cursor.execute(statement)
