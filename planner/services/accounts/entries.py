"""Entering one row of the books by hand: the same columns and rules as a file, with a reason."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.services.accounts.imports.importing import ImportPreview, kind_get, rows_preview
from planner.services.accounts.imports.writing import changes_write
from planner.services.audit import audit_event_add
from planner.services.imports.columns import CellFault
from planner.services.imports.table import TableRow


class EntryFaultError(InvalidValueError):
    """An entry that can't be taken; `faults` name each column."""

    def __init__(self, faults: tuple[CellFault, ...]) -> None:
        super().__init__("; ".join(f"{fault.column}: {fault.message}" for fault in faults))
        self.faults = faults


def entry_record(
    *, user: User, site: Site, kind: str, cells: Mapping[str, Any], reason: str
) -> ImportPreview:
    """Write one row by its columns' headings; EntryFaultError names every fault, and nothing is written."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    if not reason.strip():
        raise InvalidValueError(_("an entry needs a reason: who told it, or what it was worked out from"))
    found = kind_get(kind)
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=site.pk)
        preview = rows_preview(found, site, [TableRow(number=1, cells=dict(cells))])
        if preview.faults:
            raise EntryFaultError(preview.faults)
        if not preview.changes_nothing:
            changes_write(found, site, user, reason.strip(), preview.added, preview.changed)
            _tell(preview, user, site, reason)
    return preview


def _tell(preview: ImportPreview, user: User, site: Site, reason: str) -> None:
    values = preview.added[0].values if preview.added else preview.changed[0].row.values
    key = ", ".join(str(values[field]) for field in preview.kind.key)
    audit_event_add(
        site=site,
        user=user,
        action="entry_record",
        row=site,
        what=f"entered in {preview.kind.words}: {key}",
        why=reason,
        details={
            "added": [{name: str(value) for name, value in row.values.items()} for row in preview.added],
            "changed": [change.told() for change in preview.changed],
        },
    )
