"""Works out a workbook's live formulas as a spreadsheet program would, by the library `formulas`."""

import tempfile
from decimal import Decimal
from pathlib import Path

from formulas import ExcelModel
from formulas.ranges import Ranges
from openpyxl import load_workbook


def totals_worked_out(raw: bytes) -> dict[str, Decimal]:
    """What the live formulas of the last row of the first sheet come to, by their heading."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "totals.xlsx"
        path.write_bytes(raw)
        sheet = load_workbook(path).worksheets[0]
        found = ExcelModel().loads(str(path)).finish().calculate()
    worked_out = {str(name).upper(): cell for name, cell in found.items()}
    pairs = zip(sheet[1], sheet[sheet.max_row], strict=True)
    live = [(heading, cell) for heading, cell in pairs if cell.data_type == "f"]
    assert live, "no live formula in the last row"
    at = f"'[TOTALS.XLSX]{sheet.title.upper()}'!"
    return {str(heading.value): _number(worked_out[at + cell.coordinate]) for heading, cell in live}


def _number(cell: Ranges) -> Decimal:
    # A sum of cents in binary fractions is off far behind them.
    return Decimal(repr(round(float(cell.value[0, 0]), 6))).normalize()
