"""Restoring an archive into an empty database, and proving that it is equal."""

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from django.apps import apps
from django.core.management.color import no_style
from django.core.serializers.base import DeserializationError
from django.db import DatabaseError, connection, transaction
from django.db.models import Model

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.sentences import _
from planner.models import Site, User
from planner.services.archive.lines import CHUNK_ROWS, lines_read, lines_write
from planner.services.archive.manifest import MEMBER, Manifest, manifest_read, migrations_applied
from planner.services.archive.tables import MADE_BY_MIGRATE, archived_models, people_of, rows_of
from planner.services.audit import audit_chain_faults

_NOT_WHOLE = (
    BadZipFile,
    KeyError,
    OSError,
    EOFError,
    DeserializationError,
    DatabaseError,
    UnicodeDecodeError,
)


def archive_restore(*, path: Path) -> Manifest:
    """Fill the empty database from the archive, then prove each table and each audit chain equal.

    Either all of it stands afterwards, or nothing. Raises ConflictError where the database is not empty or
    was migrated otherwise, and InvalidValueError where the file is damaged or not an archive.
    """
    try:
        with ZipFile(path) as archive, transaction.atomic():
            manifest = manifest_read(archive.read(MEMBER))
            _require_empty()
            _require_same_migrations(manifest)
            models = _models_of(manifest)
            _fill(archive, models)
            _require_equal(manifest, models)
            return manifest
    except _NOT_WHOLE as error:
        raise InvalidValueError(
            _("{path} is not a whole archive, and nothing was restored: {error}", path=path, error=error)
        ) from error


def _require_empty() -> None:
    if User.objects.exists() or Site.objects.exists():
        raise ConflictError(
            _("this database holds users or sites already: restore into an empty, migrated one")
        )


def _require_same_migrations(manifest: Manifest) -> None:
    here, there = set(migrations_applied()), set(manifest.migrations)
    if here != there:
        named = ", ".join(sorted(here ^ there))
        raise ConflictError(
            _("the archive comes from another release ({named}): restore with that one first", named=named)
        )


def _models_of(manifest: Manifest) -> list[type[Model]]:
    """The archive's tables, in the order in which they were written."""
    expected = archived_models(Site(code=manifest.site) if manifest.site else None)
    labels = [model._meta.label for model in expected]
    if set(labels) != set(manifest.tables):
        raise InvalidValueError(
            _("the archive lacks tables, or has others: {labels}", labels=set(labels) ^ set(manifest.tables))
        )
    return expected


def _fill(archive: ZipFile, models: list[type[Model]]) -> None:
    for label in MADE_BY_MIGRATE:
        if f"{label}.jsonl" in archive.namelist():
            apps.get_model(label)._base_manager.all().delete()
    for model in models:
        with archive.open(f"{model._meta.label}.jsonl") as member:
            for rows in _chunks(lines_read(member)):
                _keep(model, rows)
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)
    connection.check_constraints()


def _keep(model: type[Model], rows: list[Model]) -> None:
    """Insert the rows as they are; one by one where a field would write the time of the restore instead."""
    if not any(_dates_itself(field) for field in model._meta.concrete_fields):
        model._base_manager.bulk_create(rows)
        return
    for row in rows:
        row.save_base(raw=True, force_insert=True)


def _dates_itself(field: Any) -> bool:
    return bool(getattr(field, "auto_now", False) or getattr(field, "auto_now_add", False))


def _chunks(rows: Iterator[Model]) -> Iterator[list[Model]]:
    while chunk := list(islice(rows, CHUNK_ROWS)):
        yield chunk


def _require_equal(manifest: Manifest, models: list[type[Model]]) -> None:
    """Read everything back: what stands in the database now is what stood in the other."""
    for model in models:
        tally = lines_write(rows_of(model, None, set()), None, set(), people_of(model))
        if tally != manifest.tables[model._meta.label]:
            raise InvalidValueError(
                _("{label} is not what the manifest says: nothing was restored", label=model._meta.label)
            )
    for site in Site.objects.all():
        if faults := audit_chain_faults(site=site):
            raise InvalidValueError(
                _("the audit chain of {code} is broken: {fault}", code=site.code, fault=faults[0])
            )
