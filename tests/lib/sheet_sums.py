"""Works out a workbook's live sums from the cells themselves, as a spreadsheet program would."""

import io
import re
from decimal import Decimal

from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

_SUM = re.compile(r"=SUM\(([A-Z]+)([0-9]+):([A-Z]+)([0-9]+)\)")


def totals_worked_out(raw: bytes) -> dict[str, Decimal]:
    """The sums of the last row of the first sheet by their heading; each must be a live formula."""
    sheet = load_workbook(io.BytesIO(raw)).worksheets[0]
    heading = [str(cell.value) for cell in sheet[1]]
    cells = list(sheet[sheet.max_row])
    return {
        name: _worked_out(sheet, str(cell.value))
        for name, cell in zip(heading, cells, strict=True)
        if cell.data_type == "f"
    }


def _worked_out(sheet: Worksheet, formula: str) -> Decimal:
    found = _SUM.fullmatch(formula)
    assert found is not None, formula
    first, last = f"{found[1]}{found[2]}", f"{found[3]}{found[4]}"
    values = [cell.value for line in sheet[f"{first}:{last}"] for cell in line]
    assert all(isinstance(value, int | float) for value in values), formula
    return sum((Decimal(repr(value)) for value in values), Decimal(0))
