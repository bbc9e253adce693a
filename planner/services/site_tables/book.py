"""The workbook of a site: empty to fill in, as it is on file, and read again."""

import io
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.comments import Comment
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from planner.domain.permissions import Action
from planner.models import Site, User
from planner.selectors.access import require_on_site
from planner.selectors.kept_nouns import noun_model, noun_rows
from planner.services.imports.columns import Column
from planner.services.imports.row_by_row import RowSheet
from planner.services.site_tables.columns import cell_of, plain_values
from planner.services.site_tables.example import example_rows
from planner.services.site_tables.sheets import sheet_name, site_sheets
from planner.services.site_tables.tables import SITE_TABLES

READ_ME = "read me"
_INTRODUCTION = (
    "Fill in the sheets from left to right: a later one names rows of an earlier one by their codes.",
    "Columns in bold are needed. Days are 2026-12-01, times 06:00 on the site's own clock.",
    "Rows that are on file already are known by their codes or dates and are changed; none is removed.",
    "Import shows what it would do, with every fault by row and column, before anything is written.",
)


def site_book(*, user: User, site: Site, with_rows: bool) -> bytes:
    """The site's workbook, with what is on file or empty; every sheet says what its columns want."""
    return _book(user, site, lambda sheet: _lines(site, sheet) if with_rows else ())


def site_example_book(*, user: User, site: Site, today: date) -> bytes:
    """The workbook with a small invented bay in it, which imports and plans as it stands."""
    rows = {sheet_name(SITE_TABLES[noun]): lines for noun, lines in example_rows(today).items()}
    return _book(
        user,
        site,
        lambda sheet: [
            [line.get(column.field) for column in sheet.columns] for line in rows.get(sheet.name, ())
        ],
    )


def _book(user: User, site: Site, lines_of: Callable[[RowSheet], Iterable[list[Any]]]) -> bytes:
    require_on_site(user=user, site=site, action=Action.SITE_CHANGE)
    book = Workbook()
    first = book.active if isinstance(book.active, Worksheet) else book.create_sheet()
    sheets = site_sheets(site)
    _read_me(first, sheets)
    for sheet in sheets:
        page = book.create_sheet(sheet.name[:31])
        _heading(page, sheet.columns)
        for line in lines_of(sheet):
            page.append([_cell(page, value) for value in line])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _lines(site: Site, sheet: RowSheet) -> Iterable[list[Any]]:
    table = next((each for each in SITE_TABLES.values() if sheet_name(each) == sheet.name), None)
    rows = [site] if table is None else noun_rows(model=noun_model(table.noun), site=site)
    for row in rows:
        values = plain_values(row, sheet.columns)
        yield [cell_of(values[column.field], site) for column in sheet.columns]


def _heading(page: Worksheet, columns: Sequence[Column]) -> None:
    page.freeze_panes = "A2"
    for place, column in enumerate(columns, start=1):
        cell = page.cell(row=1, column=place, value=column.name)
        cell.font = Font(bold=column.required)
        if column.help:
            cell.comment = Comment(column.help, "Tyrewright")
        page.column_dimensions[get_column_letter(place)].width = max(len(column.name) + 4, 14)


def _cell(page: Worksheet, value: Any) -> Any:
    """A text stays text, also where it begins like a formula."""
    if not isinstance(value, str):
        return value
    cell = WriteOnlyCell(page, value=value)
    cell.data_type = "s"
    return cell


def _read_me(page: Worksheet, sheets: Sequence[RowSheet]) -> None:
    page.title = READ_ME
    for words in _INTRODUCTION:
        page.append([words])
    page.append([])
    page.append(["sheet", "column", "needed", "what it wants"])
    for sheet in sheets:
        for column in sheet.columns:
            page.append([sheet.name, column.name, "yes" if column.required else "", column.help])
    for letter, width in (("A", 24), ("B", 26), ("C", 10), ("D", 70)):
        page.column_dimensions[letter].width = width
