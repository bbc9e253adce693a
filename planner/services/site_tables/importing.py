"""Importing a site's workbook, or one table of it: tried whole, told by row and column, kept whole or not."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.file_tasks import Pace, no_pace
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import site_day
from planner.selectors.plan_in_bay import plan_in_bay_get
from planner.services.audit import audit_event_add, audit_later
from planner.services.imports.columns import CellFault
from planner.services.imports.row_by_row import SheetOutcome, sheets_import
from planner.services.imports.table import TableRow, book_read, is_workbook, table_read
from planner.services.plan_guard import PlanBreaksError, broken_since, broken_tell
from planner.services.rosters import shifts_make
from planner.services.site_tables.book import READ_ME
from planner.services.site_tables.changing import ROSTER_NOUNS, roster_last_day
from planner.services.site_tables.sheets import sheet_name, site_sheets
from planner.services.site_tables.tables import RULES_SHEET, SITE_TABLES

_AHEAD = timedelta(days=21)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteImport:
    """What an import does or did, sheet by sheet; `broken` where the published plan would not survive it."""

    outcomes: tuple[SheetOutcome, ...]
    broken: PlanBreaksError | None

    @property
    def faults(self) -> tuple[CellFault, ...]:
        """Every fault of every sheet."""
        return tuple(fault for outcome in self.outcomes for fault in outcome.faults)

    @property
    def changes_nothing(self) -> bool:
        """Whether all of it is on file already."""
        return not any(outcome.added or outcome.changed for outcome in self.outcomes)


def site_import(
    *,
    user: User,
    site: Site,
    name: str,
    raw: bytes,
    sheet: str = "",
    keep: bool,
    accepted: bool = False,
    pace: Pace = no_pace,
) -> SiteImport:
    """Read a workbook, or a CSV file of one `sheet`, and write all of it through the services.

    Everything is taken back where `keep` is not set, a row has a fault, or the published plan would break
    and that is not `accepted`. Raises InvalidValueError where the file is none of a site's.
    """
    require_on_site(user=user, site=site, action=Action.SITE_CHANGE)
    tables = _tables(name, raw, sheet)
    there = {title: list(rows[0].cells) for title, rows in tables.items()}
    sheets = [(each, tables[each.name]) for each in site_sheets(site, there) if each.name in tables]
    now = timezone.now()
    with transaction.atomic():
        before = plan_in_bay_get(user=user, site=site, now=now)
        with audit_later(site=site, kept=keep):
            outcomes = sheets_import(user=user, site=site, sheets=sheets, keep=True, pace=pace)
        done = SiteImport(outcomes=tuple(outcomes), broken=None)
        if done.faults:
            transaction.set_rollback(True)
            return done
        if not done.changes_nothing:
            _shifts_follow(user, site, done.outcomes)
        broken = broken_since(user=user, site=site, before=before, now=now)
        if broken is not None:
            done = SiteImport(outcomes=done.outcomes, broken=broken)
        if not keep or (broken is not None and not accepted):
            transaction.set_rollback(True)
        elif not done.changes_nothing:
            _tell(user, site, name, done)
    return done


def _tables(name: str, raw: bytes, sheet: str) -> dict[str, list[TableRow]]:
    """The rows by the sheet's name, sheets without rows left out."""
    known = {RULES_SHEET, *(sheet_name(table) for table in SITE_TABLES.values())}
    if is_workbook(name, raw):
        found = {title: rows for title, rows in book_read(raw).items() if title != READ_ME and rows}
        strange = sorted(set(found) - known)
        if strange:
            there = ", ".join(sorted(known))
            raise InvalidValueError(
                _("there is no sheet {strange}; there are {there}", strange=tuple(strange), there=there)
            )
    elif sheet in known:
        found = {sheet: table_read(name, raw)}
    else:
        raise InvalidValueError(_("say which table the CSV file holds"))
    if not any(found.values()):
        raise InvalidValueError(_("the file has headings and no rows"))
    return {title: rows for title, rows in found.items() if rows}


def _shifts_follow(user: User, site: Site, outcomes: Sequence[SheetOutcome]) -> None:
    """Where the roster changed, so do the shifts from today on; on a new site, three weeks of them."""
    names = {sheet_name(SITE_TABLES[noun]) for noun in ROSTER_NOUNS}
    if any(each.sheet.name in names and (each.added or each.changed) for each in outcomes):
        today = site_day(site)
        last = roster_last_day(site=site) or today + _AHEAD
        shifts_make(user=user, site=site, first_day=today, last_day=last, why="the roster was imported")


def _tell(user: User, site: Site, name: str, done: SiteImport) -> None:
    added, changed = sum(each.added for each in done.outcomes), sum(each.changed for each in done.outcomes)
    what = f"imported the site's tables from {name}: {added} added, {changed} changed"
    audit_event_add(site=site, user=user, action="site_import", row=site, what=what)
    if done.broken is not None:
        broken_tell(user=user, site=site, error=done.broken)
