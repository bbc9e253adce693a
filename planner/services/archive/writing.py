"""Writing an archive from one state of the database."""

import errno
import os
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from django.db import connection, transaction

from planner.models import Site
from planner.services.archive.lines import lines_write
from planner.services.archive.manifest import MEMBER, Manifest, TableTally, manifest_write, migrations_applied
from planner.services.archive.tables import archived_models, people_of, rows_of


def archive_write(*, path: Path, site: Site | None = None) -> Manifest:
    """Write everything, or one site and the people it names, into a new file that only its owner reads.

    The rows are those of one moment, whoever writes meanwhile. Raises FileExistsError where the file is
    there; a failed write leaves none. The name is given once all of it is on the disk: who is killed in the
    middle leaves a `.part`, which the next one writes over.
    """
    if path.exists():
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    part = path.with_name(f"{path.name}.part")
    try:
        manifest = _written(part, site)
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    return manifest


def _written(part: Path, site: Site | None) -> Manifest:
    outer = not connection.in_atomic_block
    file = os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_NOFOLLOW, 0o600), "wb")
    with file:
        with ZipFile(file, "w", ZIP_DEFLATED) as archive, transaction.atomic():
            if outer and connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("set transaction isolation level repeatable read read only")
            manifest = _write(archive, site)
        file.flush()
        os.fsync(file.fileno())
    return manifest


def _write(archive: ZipFile, site: Site | None) -> Manifest:
    tables: dict[str, TableTally] = {}
    users: set[Any] = set()
    for model in archived_models(site):
        with archive.open(f"{model._meta.label}.jsonl", "w", force_zip64=True) as member:
            rows = rows_of(model, site, users)
            tables[model._meta.label] = lines_write(rows, member, users, people_of(model))
    manifest = Manifest(site=site.code if site else None, migrations=migrations_applied(), tables=tables)
    archive.writestr(MEMBER, manifest_write(manifest))
    return manifest
