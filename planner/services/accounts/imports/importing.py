"""Previewing an import and carrying it out: all of it or nothing; the same file twice changes nothing."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.db import models, transaction

from planner.domain.errors import InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.services.accounts.imports.checking import row_faults, values_on_file
from planner.services.accounts.imports.kinds import IMPORT_KINDS, ImportKind
from planner.services.audit import audit_event_add
from planner.services.imports.columns import CellFault, CheckedRow, columns_refuse, rows_read
from planner.services.imports.table import table_read


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportPreview:
    """What an import would do: rows added, changed and left as they are, or every fault."""

    kind: ImportKind
    sha256: str
    added: tuple[CheckedRow, ...]
    changed: tuple[CheckedRow, ...]
    unchanged: int
    faults: tuple[CellFault, ...]

    @property
    def changes_nothing(self) -> bool:
        """Whether all of it is on file already."""
        return not (self.added or self.changed or self.faults)


def import_preview(*, user: User, site: Site, kind: str, name: str, raw: bytes) -> ImportPreview:
    """Read the file and say what it would do, without writing; InvalidValueError where it is no such file."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    found = IMPORT_KINDS.get(kind)
    if found is None:
        raise NotFoundError(f"there is no import of {kind}; there is {', '.join(IMPORT_KINDS)}")
    rows = table_read(name, raw)
    columns_refuse(found.words, found.columns, rows)
    sound, faults = rows_read(found.columns, found.key, rows, partial(row_faults, found, site))
    on_file = _on_file(found, site)
    added = tuple(row for row in sound if row.key(found.key) not in on_file)
    known = [row for row in sound if row.key(found.key) in on_file]
    changed = tuple(row for row in known if _differs(row, on_file[row.key(found.key)]))
    return ImportPreview(
        kind=found,
        sha256=hashlib.sha256(raw).hexdigest(),
        added=added,
        changed=changed,
        unchanged=len(known) - len(changed),
        faults=tuple(faults),
    )


def import_apply(*, user: User, site: Site, kind: str, name: str, raw: bytes, why: str = "") -> ImportPreview:
    """Write the whole file, or nothing where any row has a fault."""
    with transaction.atomic():
        # The site's row keeps a second import out until this one is done.
        Site.objects.select_for_update().get(pk=site.pk)
        preview = import_preview(user=user, site=site, kind=kind, name=name, raw=raw)
        if preview.faults:
            first = preview.faults[0]
            raise InvalidValueError(
                f"nothing was imported: {len(preview.faults)} faults,"
                f" the first in row {first.row}, {first.column}: {first.message}"
            )
        if not preview.changes_nothing:
            _write(preview, site)
            _tell(preview, user, site, name, why)
    return preview


def _on_file(kind: ImportKind, site: Site) -> dict[tuple[Any, ...], models.Model]:
    rows = kind.model._default_manager.filter(site=site)
    return {tuple(getattr(row, field) for field in kind.key): row for row in rows}


def _differs(row: CheckedRow, on_file: models.Model) -> bool:
    return values_on_file(on_file, list(row.values)) != row.values


def _write(preview: ImportPreview, site: Site) -> None:
    model = preview.kind.model
    model._default_manager.bulk_create([model(site=site, **row.values) for row in preview.added])
    on_file = _on_file(preview.kind, site) if preview.changed else {}
    for row in preview.changed:
        kept = on_file[row.key(preview.kind.key)]
        version = getattr(kept, "version", 0) + 1
        model._default_manager.filter(pk=kept.pk).update(**row.values, version=version)


def _tell(preview: ImportPreview, user: User, site: Site, name: str, why: str) -> None:
    added, changed = len(preview.added), len(preview.changed)
    audit_event_add(
        site=site,
        user=user,
        action="import_apply",
        row=site,
        what=f"imported {preview.kind.words} from {name}: {added} added, {changed} changed",
        why=why,
        details={"sha256": preview.sha256, "changed": _changed_values(preview.changed)},
    )


def _changed_values(rows: Sequence[CheckedRow]) -> list[dict[str, str]]:
    return [{field: str(value) for field, value in row.values.items()} for row in rows[:200]]
