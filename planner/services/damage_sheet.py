"""Registering many damaged tyres from a spreadsheet: each row as if it were typed into the form."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from planner.domain.errors import InvalidValueError
from planner.domain.injury import Injury, Zone
from planner.domain.sentences import _
from planner.models import Machine, Site, User
from planner.services.damage_registration import DamageReport, damage_register
from planner.services.imports import cells
from planner.services.imports.columns import column
from planner.services.imports.row_by_row import Effect, RowSheet, SheetOutcome, sheets_import
from planner.services.imports.table import TableRow

MOST_ROWS = 300
_END_OF_DAY = time(18)


def _moment(cell: Any) -> datetime:
    """A day, or a day and time, on the site's clock: such as 2026-12-01 06:00; a bare day means 18:00."""
    if isinstance(cell, datetime):
        return cell
    try:
        told = datetime.fromisoformat(str(cell))
    except ValueError as fault:
        raise InvalidValueError(
            _("{cell:quoted} is no day and time, such as 2026-12-01 06:00", cell=cell)
        ) from fault
    is_day = isinstance(cell, date) or len(str(cell)) == len("2026-12-01")
    return datetime.combine(told.date(), _END_OF_DAY) if is_day else told


def _zone(cell: Any) -> Zone:
    try:
        return Zone(str(cell).lower())
    except ValueError as fault:
        raise InvalidValueError(
            _("{cell:quoted} is no zone; there are {Zone}", cell=cell, Zone=tuple(Zone))
        ) from fault


def _write(user: User, site: Site, values: Mapping[str, Any]) -> Effect:
    if not values["demounted"]:
        raise InvalidValueError(_("only a demounted, deflated tyre that has seen no heat may be repaired"))
    needed = values["needed_by"]
    report = DamageReport(
        serial=values["serial"],
        size_as_written=values["size"],
        injury=Injury(
            zone=values["zone"], length_mm=values["length_mm"], width_mm=values["width_mm"],
            depth_mm=values["depth_mm"], plies=values.get("plies", 0),
        ),
        needed_by=needed if needed.tzinfo else needed.replace(tzinfo=ZoneInfo(site.time_zone)),
        machine_id=_machine_id(site, values.get("machine", "")),
        demounted=True,
        note=values.get("note", ""),
    )  # fmt: skip
    damage_register(user=user, site=site, report=report)
    return Effect.ADDED


def _machine_id(site: Site, code: str) -> int | None:
    if not code:
        return None
    machine = Machine.objects.filter(site=site, code__iexact=code, active=True).first()
    if machine is None:
        raise InvalidValueError(_("there is no machine {code} on {site}", code=code, site=site))
    return machine.pk


DAMAGE_SHEET = RowSheet(
    name="damage",
    words="damaged tyres",
    columns=(
        column("serial", cells.words, help="as branded on the tyre"),
        column("size", cells.words, help="as written on the sidewall, such as 27.00R49"),
        column("zone", _zone, help="crown, shoulder, sidewall or bead"),
        column("length mm", cells.whole),
        column("width mm", cells.whole),
        column("depth mm", cells.whole),
        column("plies", cells.whole, required=False, help="plies cut; empty for none"),
        column("machine", cells.words, required=False, help="its code"),
        column("needed by", _moment, help="day, or day and time on the site's clock"),
        column("demounted", cells.yes_or_no, help="yes: off its machine, deflated, no heat seen on it"),
        column("note", cells.words, required=False),
    ),
    key=("serial",),
    write=_write,
)


def damage_import(*, user: User, site: Site, rows: Sequence[TableRow], keep: bool) -> SheetOutcome:
    """Register every row, or try it without keeping anything; kept only where no row has a fault."""
    if len(rows) > MOST_ROWS:
        raise InvalidValueError(_("the file has more than {most_rows} rows: split it", most_rows=MOST_ROWS))
    (outcome,) = sheets_import(user=user, site=site, sheets=[(DAMAGE_SHEET, rows)], keep=keep)
    return outcome
