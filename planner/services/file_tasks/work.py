"""What each kind of file task does, and what it tells."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from planner.domain.errors import InvalidValueError
from planner.domain.file_tasks import FileTaskKind, Pace
from planner.domain.sentences import Sentence, _, kept, sentence_of
from planner.models import FileTask
from planner.selectors.accounts.repairs import RepairFilter, repair_list, repair_row
from planner.selectors.accounts.spreadsheet import repairs_csv, repairs_xlsx
from planner.services.accounts.imports.importing import import_apply, import_preview
from planner.services.imports.columns import CellFault
from planner.services.site_tables.book import site_book
from planner.services.site_tables.importing import site_import

MOST_FAULTS = 300
_WRITERS = {"csv": repairs_csv, "xlsx": repairs_xlsx}


@dataclass(frozen=True, slots=True, kw_only=True)
class FileOutcome:
    """What an import did or would do, or the file that an export wrote."""

    told: Mapping[str, Any] = field(default_factory=dict)
    name: str = ""
    raw: bytes = b""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileWork:
    """How a kind is done, and which options it knows."""

    do: Callable[[FileTask, Pace], FileOutcome]
    options: frozenset[str]


def _books_import(task: FileTask, pace: Pace) -> FileOutcome:
    file: dict[str, Any] = {
        "user": task.asked_by, "site": task.site, "kind": str(task.options.get("holds", "")),
        "name": task.file_name, "raw": bytes(task.file_raw), "pace": pace,
    }  # fmt: skip
    if task.options.get("keep"):
        done = import_apply(**file, why=str(task.options.get("why", "")))
    else:
        done = import_preview(**file)
    sheet = {
        "sheet": done.kind.words, "added": len(done.added), "changed": len(done.changed),
        "unchanged": done.unchanged,
    }  # fmt: skip
    notes = [_fault(note) for note in done.notes[:MOST_FAULTS]]
    return FileOutcome(told={"sheets": [sheet], "notes": notes, **_faults(done.faults)})


def _site_import(task: FileTask, pace: Pace) -> FileOutcome:
    done = site_import(
        user=task.asked_by, site=task.site, name=task.file_name, raw=bytes(task.file_raw),
        sheet=str(task.options.get("sheet", "")), keep=bool(task.options.get("keep")),
        accepted=bool(task.options.get("accepted")), pace=pace,
    )  # fmt: skip
    if task.options.get("keep") and done.faults:
        first = done.faults[0]
        raise InvalidValueError(
            _(
                "nothing was imported: {count} faults, the first in {sheet}, row {row}, {column}: {message}",
                count=len(done.faults),
                sheet=first.sheet,
                row=first.row,
                column=first.column,
                message=first.message,
            )
        )
    if task.options.get("keep") and done.broken is not None and not task.options.get("accepted"):
        raise done.broken
    sheets = [
        {"sheet": each.sheet.name, "added": each.added, "changed": each.changed, "unchanged": each.unchanged}
        for each in done.outcomes
    ]
    broken = Sentence("") if done.broken is None else sentence_of(done.broken)
    said = {"broken": str(broken), "broken_told": kept(broken)}
    return FileOutcome(told={"sheets": sheets, **said, **_faults(done.faults)})


def _site_export(task: FileTask, _pace: Pace) -> FileOutcome:
    raw = site_book(user=task.asked_by, site=task.site, with_rows=True)
    return FileOutcome(name=f"{task.site.code}.xlsx", raw=raw)


def _repairs_export(task: FileTask, pace: Pace) -> FileOutcome:
    month, form = task.options.get("month"), str(task.options.get("form", "xlsx"))
    wanted = RepairFilter(month=date.fromisoformat(f"{month}-01") if month else None)
    found = repair_list(user=task.asked_by, site=task.site, wanted=wanted)

    def rows() -> Any:
        for row in found.iterator(chunk_size=2000):
            pace()
            yield repair_row(row, task.site.currency)

    raw = _WRITERS[form](rows(), task.site.currency)
    return FileOutcome(name=f"repairs-{task.site.code}.{form}", raw=raw)


def _faults(faults: tuple[CellFault, ...]) -> dict[str, Any]:
    return {"faults": [_fault(each) for each in faults[:MOST_FAULTS]], "fault_count": len(faults)}


def _fault(fault: CellFault) -> dict[str, Any]:
    return {
        "sheet": fault.sheet,
        "row": fault.row,
        "column": fault.column,
        "message": str(fault.message),
        "told": kept(fault.message),
    }


WORKS: Mapping[FileTaskKind, FileWork] = {
    FileTaskKind.BOOKS_IMPORT: FileWork(do=_books_import, options=frozenset({"holds", "keep", "why"})),
    FileTaskKind.SITE_IMPORT: FileWork(do=_site_import, options=frozenset({"sheet", "keep", "accepted"})),
    FileTaskKind.SITE_EXPORT: FileWork(do=_site_export, options=frozenset()),
    FileTaskKind.REPAIRS_EXPORT: FileWork(do=_repairs_export, options=frozenset({"month", "form"})),
}
