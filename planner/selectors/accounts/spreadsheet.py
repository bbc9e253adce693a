"""Writing repairs as CSV and XLSX: typed cells, a frozen heading, and totals as live sums."""

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from planner.domain.money import smallest_unit
from planner.selectors.accounts.repairs import RepairRow

Cell = str | int | date | Decimal | None
HEADING = (
    "Order",
    "Tyre",
    "Size",
    "Zones",
    "Month",
    "Outcome",
    "Estimate",
    "Actual",
    "Variance",
    "Avoided",
    "Hours",
)
SUMMED = range(6, 11)
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "\0")


def cell_text(text: str) -> str:
    """Text that no spreadsheet takes for a formula: one that begins like it gets an apostrophe before."""
    return f"'{text}" if text.startswith(_RISKY) else text


def repair_cells(row: RepairRow) -> list[Cell]:
    """One repair as typed cells, in the order of the heading."""
    order = row.repair.work_order
    zones = ", ".join(sorted({damage.zone for damage in order.damages.all()}))
    return [
        order.code,
        cell_text(order.tyre.serial),
        cell_text(order.tyre.size),
        zones,
        row.repair.month,
        "failed" if row.repair.failed else "repaired",
        row.estimate.amount,
        row.actual.amount,
        row.variance.amount,
        row.avoided.amount,
        row.repair.hours_gained,
    ]


def repairs_csv(rows: Iterable[RepairRow], currency: str) -> bytes:
    """The repairs and their totals as CSV in UTF-8, amounts in the currency of the heading."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(_heading(currency))
    totals = [Decimal(0)] * len(SUMMED)
    for row in rows:
        cells = repair_cells(row)
        writer.writerow(cells)
        totals = [total + _number(cells[place]) for total, place in zip(totals, SUMMED, strict=True)]
    writer.writerow(["Total", *[""] * (SUMMED.start - 1), *totals])
    return out.getvalue().encode("utf-8-sig")


def repairs_xlsx(rows: Iterable[RepairRow], currency: str) -> bytes:
    """The repairs as a workbook whose totals are sums over the rows above."""
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Repairs")
    sheet.freeze_panes = "A2"
    for place, name in enumerate(HEADING, start=1):
        sheet.column_dimensions[get_column_letter(place)].width = max(len(name) + 8, 14)
    formats = _formats(currency)
    sheet.append([_bold(sheet, name) for name in _heading(currency)])
    last = 1
    for last, row in enumerate(rows, start=2):  # noqa: B007
        cells = zip(repair_cells(row), formats, strict=True)
        sheet.append([_typed(sheet, cell, shown) for cell, shown in cells])
    sheet.append(_total_cells(sheet, last, formats))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _heading(currency: str) -> list[str]:
    money = range(SUMMED.start, SUMMED.stop - 1)
    return [f"{name} ({currency})" if place in money else name for place, name in enumerate(HEADING)]


def _formats(currency: str) -> list[str]:
    """How each column is shown: money in the digits that its currency has."""
    digits = -int(smallest_unit(currency).as_tuple().exponent)
    money = "#,##0" + (f".{'0' * digits}" if digits else "")
    return ["General"] * 4 + ["yyyy-mm", "General"] + [money] * (len(SUMMED) - 1) + ["#,##0"]


def _total_cells(sheet: object, last: int, formats: Sequence[str]) -> Sequence[object]:
    letters = [get_column_letter(place + 1) for place in SUMMED]
    sums = [f"=SUM({letter}2:{letter}{last})" if last > 1 else 0 for letter in letters]
    cells = zip(("Total", *[None] * (SUMMED.start - 1), *sums), formats, strict=True)
    return [_bold(sheet, cell, shown) for cell, shown in cells]


def _typed(sheet: object, cell: Cell, shown: str) -> object:
    made = WriteOnlyCell(sheet, value=cell)  # type: ignore[arg-type]
    if isinstance(cell, str):
        made.data_type = "s"
    made.number_format = shown
    return made


def _bold(sheet: object, value: object, shown: str = "General") -> object:
    made = WriteOnlyCell(sheet, value=value)  # type: ignore[arg-type]
    made.font = Font(bold=True)
    made.number_format = shown
    return made


def _number(cell: Cell) -> Decimal:
    return Decimal(cell) if isinstance(cell, int | Decimal) else Decimal(0)
