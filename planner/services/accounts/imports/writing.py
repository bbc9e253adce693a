"""Which rows are new, which change what is on file, and writing both."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db import models

from planner.models import Site, User
from planner.models.entered import Entered
from planner.services.accounts.imports.checking import values_on_file
from planner.services.accounts.imports.kinds import ImportKind
from planner.services.imports.columns import CheckedRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A row that differs from the one on file."""

    row: CheckedRow
    kept: models.Model

    def told(self) -> dict[str, dict[str, str]]:
        """What differs, before and after, for the record; and what the row is."""
        before = values_on_file(self.kept, list(self.row.values))
        after = self.row.values
        return {
            "row": {"what": str(self.kept)},
            "before": {name: str(value) for name, value in before.items() if value != after[name]},
            "after": {name: str(value) for name, value in after.items() if value != before[name]},
        }


def changes_of(
    kind: ImportKind, site: Site, rows: Sequence[CheckedRow]
) -> tuple[tuple[CheckedRow, ...], tuple[Change, ...], int]:
    """The rows that are new, those that change what is on file, and how many are there already."""
    on_file = {
        tuple(getattr(row, field) for field in kind.key): row
        for row in kind.model._default_manager.filter(site=site)
    }
    added = tuple(row for row in rows if row.key(kind.key) not in on_file)
    known = [(row, on_file[row.key(kind.key)]) for row in rows if row.key(kind.key) in on_file]
    changed = tuple(
        Change(row=row, kept=kept)
        for row, kept in known
        if values_on_file(kept, list(row.values)) != row.values
    )
    return added, changed, len(known) - len(changed)


def changes_write(
    kind: ImportKind,
    site: Site,
    user: User,
    reason: str,
    added: Sequence[CheckedRow],
    changed: Sequence[Change],
) -> None:
    """Write them, each with its author and reason where the book keeps them."""
    entered: dict[str, Any] = {}
    if issubclass(kind.model, Entered):
        entered = {"author": user, "reason": reason[:300]}
    rows = [kind.model(site=site, **row.values, **entered) for row in added]
    kind.model._default_manager.bulk_create(rows, batch_size=1000)
    for change in changed:
        version = getattr(change.kept, "version", 0) + 1
        row = kind.model._default_manager.filter(pk=change.kept.pk)
        row.update(**change.row.values, **entered, version=version)
