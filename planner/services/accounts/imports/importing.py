"""Previewing an import and carrying it out: all of it or nothing; the same file twice changes nothing."""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.db import transaction

from planner.domain.errors import InvalidValueError, NotFoundError
from planner.domain.file_tasks import Pace, no_pace
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.known import Known, known_get
from planner.services.accounts.imports.checking import closed_faults, row_faults, row_notes
from planner.services.accounts.imports.kinds import IMPORT_KINDS, ImportKind
from planner.services.accounts.imports.writing import Change, changes_of, changes_write
from planner.services.audit import audit_event_add
from planner.services.imports.columns import CellFault, CheckedRow, columns_refuse, rows_read
from planner.services.imports.table import TableRow, table_read


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportPreview:
    """What an import would do: rows added, changed and left as they are, or every fault.

    `notes` are what may be meant but rarely is: they stop nothing.
    """

    kind: ImportKind
    sha256: str
    added: tuple[CheckedRow, ...]
    changed: tuple[Change, ...]
    unchanged: int
    faults: tuple[CellFault, ...]
    notes: tuple[CellFault, ...]

    @property
    def changes_nothing(self) -> bool:
        """Whether all of it is on file already."""
        return not (self.added or self.changed or self.faults)


def import_preview(
    *, user: User, site: Site, kind: str, name: str, raw: bytes, pace: Pace = no_pace
) -> ImportPreview:
    """Read the file and say what it would do, without writing; InvalidValueError where it is no such file."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    found = kind_get(kind)
    rows = table_read(name, raw)
    columns_refuse(found.words, found.columns, rows)
    return rows_preview(found, site, rows, hashlib.sha256(raw).hexdigest(), pace)


def kind_get(name: str) -> ImportKind:
    """The kind of that name; NotFoundError where there is none."""
    found = IMPORT_KINDS.get(name)
    if found is None:
        raise NotFoundError(
            _(
                "there is no import of {name}; there is {import_kinds}",
                name=name,
                import_kinds=tuple(IMPORT_KINDS),
            )
        )
    return found


def rows_preview(
    kind: ImportKind, site: Site, rows: Sequence[TableRow], sha256: str = "", pace: Pace = no_pace
) -> ImportPreview:
    """What the rows would do, for those who were asked what they may do."""
    known = known_get(site=site)
    sound, faults = rows_read(kind.columns, kind.key, rows, partial(row_faults, kind, site, known), pace)
    added, changed, unchanged = changes_of(kind, site, sound)
    altering = [*added, *(change.row for change in changed)]
    faults.extend(closed_faults(kind, known, altering))
    return ImportPreview(
        kind=kind,
        sha256=sha256,
        added=added,
        changed=changed,
        unchanged=unchanged,
        faults=tuple(sorted(faults, key=lambda fault: fault.row)),
        notes=tuple(row_notes(kind, known, altering)),
    )


def import_apply(
    *, user: User, site: Site, kind: str, name: str, raw: bytes, why: str = "", pace: Pace = no_pace
) -> ImportPreview:
    """Write the whole file, or nothing where any row has a fault.

    It is checked while others may change the site, and again only where they changed what it is held
    against.
    """
    seen = _seen(kind_get(kind), site)
    preview = import_preview(user=user, site=site, kind=kind, name=name, raw=raw, pace=pace)
    with transaction.atomic():
        # The site's row keeps a second import, and the close of a month, out until this one is done.
        Site.objects.select_for_update().get(pk=site.pk)
        if _seen(preview.kind, site) != seen:
            preview = import_preview(user=user, site=site, kind=kind, name=name, raw=raw, pace=pace)
        _refuse_faults(preview)
        if not preview.changes_nothing:
            changes_write(preview.kind, site, user, why or f"file {name}", preview.added, preview.changed)
            _tell(preview, user, site, name, why)
    return preview


def _seen(kind: ImportKind, site: Site) -> tuple[Known, list[Any]]:
    """All that rows are held against: what they may name, and the rows on file with their versions."""
    rows = kind.model._default_manager.filter(site=site).order_by("pk")
    return known_get(site=site), list(rows.values_list("pk", "version"))


def _refuse_faults(preview: ImportPreview) -> None:
    if preview.faults:
        first = preview.faults[0]
        raise InvalidValueError(
            _(
                "nothing was imported: {count} faults, the first in row {row}, {column}: {message}",
                count=len(preview.faults),
                row=first.row,
                column=first.column,
                message=first.message,
            )
        )


def _tell(preview: ImportPreview, user: User, site: Site, name: str, why: str) -> None:
    added, changed = len(preview.added), len(preview.changed)
    audit_event_add(
        site=site,
        user=user,
        action="import_apply",
        row=site,
        what=f"imported {preview.kind.words} from {name}: {added} added, {changed} changed",
        why=why,
        details={"sha256": preview.sha256, "changed": [change.told() for change in preview.changed[:200]]},
    )
