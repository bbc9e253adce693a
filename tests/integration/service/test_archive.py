"""An archive holds everything, and an emptied database filled from it is equal."""

import stat
import zipfile
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from axes.models import AccessFailureLog
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection, transaction
from django.db.models import Model
from django.test import Client
from django_otp.plugins.otp_totp.models import TOTPDevice

from planner.domain.errors import ConflictError, InvalidValueError
from planner.models import (
    AuditEvent,
    CostApproval,
    CostAssumption,
    CostPeriod,
    Position,
    Site,
    User,
    WorkOrder,
)
from planner.services.archive import archive_restore, archive_write
from planner.services.archive.tables import MADE_BY_MIGRATE, archived_models
from tests.lib.mine import DAY, Mine, mine_equipped, mine_open

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    mine = mine_equipped()
    mine.order("A1")
    return mine


def empty() -> None:
    """Take every row away, as if the database had just been migrated."""
    models = [model for model in archived_models(None) if model._meta.label not in MADE_BY_MIGRATE]
    tables = [model._meta.db_table for model in models]
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute("set constraints all immediate")
            cursor.execute(f"truncate {', '.join(tables)} restart identity cascade")
            cursor.execute("set constraints all deferred")
        else:
            for table in tables:
                cursor.execute(f"delete from {table}")  # noqa: S608 - a table of ours


def rows(model: type[Model]) -> list[dict[str, object]]:
    return list(model._base_manager.order_by("pk").values())


def test_everything_comes_back_equal(mine: Mine, tmp_path: Path) -> None:
    before = {model: rows(model) for model in archived_models(None)}
    archive_write(path=tmp_path / "all.zip")
    empty()
    manifest = archive_restore(path=tmp_path / "all.zip")
    assert {model: rows(model) for model in archived_models(None)} == before
    assert manifest.rows == sum(map(len, before.values())) > 100
    assert [kind.code for kind in Position.objects.get(code="P1").kinds.all()] == ["prep"]


def test_what_writes_its_own_time_comes_back_with_that_time(mine: Mine, tmp_path: Path) -> None:
    """Each sign-in, one-time code, approval, assumption and closed month is dated by its own field."""
    user, order = mine.supervisor, WorkOrder.objects.get()
    user.set_password("right-horse-9")
    user.save()
    for name, password in ((user.username, "right-horse-9"), ("somebody", "wrong")):
        Client().post("/sign-in/", {"username": name, "password": password})
    AccessFailureLog.objects.create(username="somebody", ip_address="192.0.2.1")
    TOTPDevice.objects.create(user=user, name="phone")
    CostApproval.objects.create(site=mine.site, work_order=order, approver=user, amount_minor=1)
    CostAssumption.objects.create(
        site=mine.site, name="hours_a_day", value="12", reason="known", author=user, effective_from=DAY
    )
    CostPeriod.objects.create(site=mine.site, month=DAY.replace(day=1), closed_by=user)
    stamped = [
        model
        for model in archived_models(None)
        if any(getattr(field, "auto_now_add", False) for field in model._meta.concrete_fields)
    ]
    before = {model: rows(model) for model in stamped}
    assert len(stamped) >= 7 and all(before.values()), {model for model in stamped if not before[model]}
    archive_write(path=tmp_path / "all.zip")
    empty()
    archive_restore(path=tmp_path / "all.zip")
    assert {model: rows(model) for model in stamped} == before


def test_the_demo_comes_back_whole(demo_loaded: Callable[[date], None], tmp_path: Path) -> None:
    """Everything that the program can hold, some of each."""
    demo_loaded(date(2026, 11, 25))
    archive_write(path=tmp_path / "all.zip")
    with transaction.atomic():
        empty()
    manifest = archive_restore(path=tmp_path / "all.zip")
    assert manifest.rows > 5000
    assert sum(tally.rows > 0 for tally in manifest.tables.values()) >= 55


def test_work_goes_on_after_a_restore(mine: Mine, tmp_path: Path) -> None:
    archive_write(path=tmp_path / "all.zip")
    empty()
    archive_restore(path=tmp_path / "all.zip")
    mine.order("A2")
    assert WorkOrder.objects.count() == 2


def test_microseconds_survive(mine: Mine, tmp_path: Path) -> None:
    moment = datetime(2026, 3, 2, 1, 2, 3, 456789, UTC)
    WorkOrder.objects.update(received_at=moment)
    archive_write(path=tmp_path / "all.zip")
    empty()
    archive_restore(path=tmp_path / "all.zip")
    assert WorkOrder.objects.get().received_at == moment


def test_one_site_takes_its_people_and_nothing_of_another(mine: Mine, tmp_path: Path) -> None:
    mine_open("basin")
    events = AuditEvent.objects.filter(site=mine.site).count()
    archive_write(path=tmp_path / "one.zip", site=mine.site)
    empty()
    archive_restore(path=tmp_path / "one.zip")
    assert [site.code for site in Site.objects.all()] == ["ridge"]
    assert AuditEvent.objects.count() == events
    assert not User.objects.filter(username__endswith="basin").exists()
    assert User.objects.filter(username__endswith="ridge").count() == 5


def test_only_its_owner_reads_the_file_and_none_is_overwritten(mine: Mine, tmp_path: Path) -> None:
    path = tmp_path / "all.zip"
    call_command("archive_write", str(path), verbosity=0)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    before = path.read_bytes()
    with pytest.raises(CommandError, match="File exists"):
        call_command("archive_write", str(path))
    assert path.read_bytes() == before


def test_a_database_in_use_is_left_alone(mine: Mine, tmp_path: Path) -> None:
    archive_write(path=tmp_path / "all.zip")
    with pytest.raises(ConflictError, match="holds users or sites already"):
        archive_restore(path=tmp_path / "all.zip")


def _cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-100])


def _not_ours(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("readme.txt", "hello")


def _tampered(path: Path) -> None:
    with zipfile.ZipFile(path) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    members["planner.WorkOrder.jsonl"] = members["planner.WorkOrder.jsonl"].replace(
        b"to_repair", b"called_off"
    )
    with zipfile.ZipFile(path, "w") as archive:
        for name, raw in members.items():
            archive.writestr(name, raw)


@pytest.mark.parametrize("damage", [_cut, _not_ours, _tampered, Path.unlink])
def test_a_damaged_archive_restores_nothing(
    mine: Mine, tmp_path: Path, damage: Callable[[Path], None]
) -> None:
    path = tmp_path / "all.zip"
    archive_write(path=path)
    empty()
    damage(path)
    with pytest.raises(InvalidValueError, match="nothing was restored"):
        archive_restore(path=path)
    assert not Site.objects.exists()


def test_another_release_is_named(mine: Mine, tmp_path: Path) -> None:
    archive_write(path=tmp_path / "all.zip")
    empty()
    with connection.cursor() as cursor:
        cursor.execute("delete from django_migrations where name = '0003_fleet'")
    with pytest.raises(ConflictError, match=r"another release \(planner\.0003_fleet\)"):
        archive_restore(path=tmp_path / "all.zip")


def test_an_archive_has_its_name_only_once_it_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, part = tmp_path / "kept.zip", tmp_path / "kept.zip.part"
    part.write_bytes(b"what a killed backup left")

    def broken(*_: object) -> None:
        assert part.exists() and not path.exists()
        raise OSError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr("planner.services.archive.writing._write", broken)
        with pytest.raises(OSError, match="disk is full"):
            archive_write(path=path)
    assert list(tmp_path.iterdir()) == []
    archive_write(path=path)
    assert list(tmp_path.iterdir()) == [path]
    with pytest.raises(FileExistsError):
        archive_write(path=path)
