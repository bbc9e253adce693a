"""Empty files to fill in: the headings of a kind of sheet, with what each column wants."""

import csv
import io
from collections.abc import Sequence

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from planner.services.imports.columns import Column


def blank_csv(columns: Sequence[Column]) -> bytes:
    """The heading as CSV in UTF-8."""
    out = io.StringIO()
    csv.writer(out).writerow(column.name for column in columns)
    return out.getvalue().encode("utf-8-sig")


def blank_xlsx(words: str, columns: Sequence[Column]) -> bytes:
    """A workbook with the heading frozen; what a column wants is its comment."""
    book = Workbook()
    sheet = book.active or book.create_sheet()
    sheet.title = words[:31]
    sheet.freeze_panes = "A2"
    for place, column in enumerate(columns, start=1):
        cell = sheet.cell(row=1, column=place, value=column.name)
        cell.font = Font(bold=column.required)
        if column.help:
            cell.comment = Comment(column.help, "Tyrewright")
        sheet.column_dimensions[get_column_letter(place)].width = max(len(column.name) + 4, 12)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
