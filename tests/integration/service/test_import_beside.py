"""Beside a large import of a site: others change it, a plan is published, a second import waits."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.db import OperationalError, connection
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.file_tasks import FileTaskKind, no_pace
from planner.models import AuditEvent, CostPeriod, CostPrice, HeaterSet, Machine, Tyre
from planner.services.accounts.imports.importing import import_apply
from planner.services.audit import audit_chain_faults
from planner.services.file_tasks import work
from planner.services.file_tasks.asking import file_task_ask
from planner.services.file_tasks.running import file_task_run
from planner.services.site_tables.importing import SiteImport, site_import
from planner.services.tyres import tyre_register
from tests.lib.at_once import at_once
from tests.lib.books import books
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_published

pytestmark = pytest.mark.django_db(transaction=True)
HEADING = "code,name,kind,tyre size,priority,hours run,active"
MACHINES = "\n".join((HEADING, *(f"M-{row},Loader {row},loader,27.00R49,10,0,yes" for row in range(40))))


def imported(mine: Mine, pace: Callable[[], None], text: str = MACHINES, **named: Any) -> SiteImport:
    user, raw = mine.users["administrator"], text.encode()
    return site_import(
        user=user,
        site=mine.site,
        name="a.csv",
        raw=raw,
        keep=True,
        pace=pace,
        **{"sheet": "machines", **named},
    )


def at_row(number: int, work: Callable[[], Any]) -> Callable[[], None]:
    """Does some work in a thread and with a connection of its own when a row's turn comes.

    What would wait for the import, which waits for it, ends after a while.
    """
    rows = iter(range(1_000))

    def hurried() -> None:
        with connection.cursor() as cursor:
            cursor.execute("set lock_timeout = '20s'")
        work()

    def pace() -> None:
        if next(rows) == number:
            (outcome,) = at_once([hurried])
            assert not isinstance(outcome, Exception), outcome

    return pace


def test_somebody_registers_a_tyre_while_a_file_of_machines_is_read_in() -> None:
    if connection.vendor == "sqlite":
        pytest.skip("SQLite has one place to write, which an import holds")
    mine = mine_equipped()

    def register() -> None:
        tyre_register(user=mine.supervisor, site=mine.site, serial="T-1", size_as_written="20.5R25")
        assert Tyre.objects.filter(serial="T-1").exists()
        assert not Machine.objects.exists()

    imported(mine, at_row(20, register))
    assert Machine.objects.count() == 40
    told = [event.action for event in AuditEvent.objects.order_by("-sequence")[:42]]
    assert told == ["site_import", *["machine_add"] * 40, "tyre_register"]
    assert audit_chain_faults(site=mine.site) == ()


def test_a_plan_that_is_published_meanwhile_is_held_against_the_import(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    if connection.vendor == "sqlite":
        pytest.skip("SQLite has one place to write, which an import holds")
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    monkeypatch.setattr("django.utils.timezone.now", lambda: at(5))
    mine = mine_equipped()
    mine.order("A1")
    text = "code,name,channels,power kw,active\nH1,H1,2,6,no\n"
    pace = at_row(0, lambda: plan_published(mine, at(6), at(18, days=2)))
    done = imported(mine, pace, text, sheet="heater sets")
    assert done.broken is not None
    assert {breach.job for breach in done.broken.breaches} == {"WO-0001"}
    assert HeaterSet.objects.get(code="H1").active


def test_a_second_import_waits_for_the_first() -> None:
    mine = mine_equipped()
    other = MACHINES.replace(",10,", ",20,")
    first, second = at_once([lambda: imported(mine, no_pace), lambda: imported(mine, no_pace, other)])
    added, changed = ([each.outcomes[0].added, each.outcomes[0].changed] for each in (first, second))
    assert sorted([added, changed]) == [[0, 40], [40, 0]]
    assert Machine.objects.values_list("version", flat=True).distinct().get() == 2
    assert audit_chain_faults(site=mine.site) == ()


def test_a_clash_with_another_change_ends_it_and_says_to_start_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)

    def clash(**_: Any) -> None:
        raise OperationalError("deadlock detected")

    monkeypatch.setattr(work, "site_import", clash)
    mine = mine_equipped()
    task = file_task_ask(
        user=mine.users["administrator"], site=mine.site, kind=FileTaskKind.SITE_IMPORT, name="a.csv",
        raw=MACHINES.encode(), options={"sheet": "machines", "keep": True},
    )  # fmt: skip
    with pytest.raises(OperationalError):
        file_task_run(task_id=task.pk)
    task.refresh_from_db()
    assert (task.state, "Nothing of the file was kept: start it again." in task.message) == ("failed", True)


def test_a_month_that_is_closed_while_a_file_is_checked_refuses_its_rows() -> None:
    found = books()
    text = "kind,item,unit,amount,currency,loading,overtime factor,effective from,source\n"
    text += "labour,builder,h,45.50,AUD,0.2,1.5,2026-09-10,agreement\n"
    rows = iter(range(10))

    def pace() -> None:
        if next(rows) == 0:
            CostPeriod.objects.create(
                site=found.site, month=date(2026, 9, 1), closed_at=timezone.now(), closed_by=found.accountant
            )

    with pytest.raises(InvalidValueError, match="nothing was imported: 1 faults"):
        import_apply(
            user=found.accountant, site=found.site, kind="prices", name="p.csv", raw=text.encode(), pace=pace
        )
    assert not CostPrice.objects.filter(item="builder").exists()
