"""Faults as they come in files that people make: each is told by row and column, and nothing is written."""

import io
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import Workbook

from planner.domain.errors import InvalidValueError
from planner.models import AuditEvent, CostOutcome, CostPrice, CostRate, Material, SizeClass
from planner.services.accounts.imports.importing import ImportPreview, import_apply, import_preview
from planner.services.accounts.periods import period_close
from tests.lib.books import Books, books

pytestmark = pytest.mark.django_db
HEADING = (
    "kind",
    "item",
    "unit",
    "amount",
    "currency",
    "loading",
    "overtime factor",
    "effective from",
    "source",
)
SOUND = ("labour", "fitter", "h", 45.5, "AUD", 0.2, 1.5, date(2026, 11, 1), "agreement")


@pytest.fixture(name="found")
def _found() -> Books:
    found = books()
    Material.objects.create(site=found.site, code="cement", name="Cement", unit="l")
    SizeClass.objects.create(
        site=found.site, code="large", name="Large", smallest_rim_inch=39, largest_rim_inch=63
    )
    return found


def row(**changed: object) -> list[Any]:
    """A sound price of labour, with some cells changed."""
    values = dict(zip(HEADING, SOUND, strict=True))
    assert {name.replace("_", " ") for name in changed} <= set(HEADING)
    return list((values | {name.replace("_", " "): cell for name, cell in changed.items()}).values())


def workbook(rows: list[list[Any]], *merged: str) -> bytes:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for each in rows:
        sheet.append(each)
    for cells in merged:
        sheet.merge_cells(cells)
    raw = io.BytesIO()
    book.save(raw)
    return raw.getvalue()


def preview(found: Books, raw: bytes | str, kind: str = "prices") -> ImportPreview:
    raw = raw.encode() if isinstance(raw, str) else raw
    return import_preview(user=found.accountant, site=found.site, kind=kind, name="a file", raw=raw)


# The cell, and words of what it is told; each stands in a row of its own.
PLANTED: list[tuple[dict[str, object], str, str]] = [
    ({"amount": "45,50"}, "amount", "'45,50' is no number, such as 1234.50"),
    ({"amount": "1,234.50"}, "amount", "is no number"),
    ({"amount": "1 234.50"}, "amount", "is no number"),
    ({"amount": "1_234"}, "amount", "is no number"),
    ({"amount": "AUD 45"}, "amount", "is no number"),
    ({"amount": True}, "amount", "'True' is no number"),
    ({"amount": datetime(2026, 11, 1)}, "amount", "is no number"),  # noqa: DTZ001 (as a workbook has it)
    ({"amount": "=2*3"}, "amount", "holds a formula: put its value there"),
    ({"amount": -45}, "amount", "greater than or equal to 0"),
    ({"loading": "26%"}, "loading", "is a percentage: write the share, such as 0.1 for 10 %"),
    ({"loading": 26}, "loading", "is a share of the wage, 5 at most"),
    ({"effective_from": "1/11/2026"}, "effective from", "is no date, such as 2026-11-25"),
    ({"effective_from": "11-01-26"}, "effective from", "is no date"),
    ({"effective_from": "1 Nov 2026"}, "effective from", "is no date"),
    ({"effective_from": "20261101"}, "effective from", "is no date"),
    ({"effective_from": 46327}, "effective from", "is no date"),
    ({"effective_from": "2026-02-29"}, "effective from", "is no day of the calendar"),
    ({"effective_from": "0206-11-01"}, "effective from", "outside the years 1990 to 2099"),
    ({"currency": "USD"}, "currency", "no exchange rate of USD to AUD holds on 2026-11-01"),
    ({"currency": "dollars"}, "currency", "is no currency"),
    ({"kind": "wages"}, "kind", "'wages' is none of labour, materials"),
    ({"kind": "heater set", "item": "H9", "loading": None, "overtime_factor": None}, "item", "no heater set"),
    ({"kind": "materials", "item": "glue", "loading": None, "overtime_factor": None}, "item", "no material"),
    (
        {"kind": "materials", "item": "cement", "unit": "kg", "loading": None, "overtime_factor": None},
        "unit",
        "a price of materials is for one l, not for 'kg'",
    ),
    (
        {"kind": "energy", "item": "electricity", "unit": "MWh", "loading": None, "overtime_factor": None},
        "unit",
        "for one kWh",
    ),
    (
        {"kind": "energy", "item": "power", "unit": "kWh", "loading": 0, "overtime_factor": 1},
        "item",
        "called",
    ),
    (
        {"kind": "inspection", "item": "final inspection", "unit": "inspection"},
        "loading",
        "only labour has it",
    ),
    ({"kind": "buy new", "item": "27 by 49", "unit": "tyre", "loading": 0, "overtime_factor": 1}, "item", ""),
    ({"item": "  "}, "item", "is empty"),
    ({"item": "a\nb"}, "item", "line break"),
    ({"source": datetime(2026, 1, 2)}, "source", "where text is wanted"),  # noqa: DTZ001
    ({"unit": "x" * 21}, "unit", ""),
]


def test_every_planted_fault_is_told_by_row_and_column(found: Books) -> None:
    # A grade of its own for each, so that no row is another's double.
    rows = [row(**{"item": f"grade {place}"} | changed) for place, (changed, _, _) in enumerate(PLANTED)]
    seen = preview(found, workbook([list(HEADING), *rows]))
    told = {(fault.row, fault.column): fault.message for fault in seen.faults}
    for number, (_, column, words) in enumerate(PLANTED, start=2):
        assert words in told[number, column], (number, column)
    assert not seen.added
    assert len({fault.row for fault in seen.faults}) == len(PLANTED)


def test_nothing_is_half_written_and_the_message_says_the_first(found: Books) -> None:
    before = list(CostPrice.objects.values_list("pk", "amount"))
    raw = workbook([list(HEADING), row(), row(amount="45,50", effective_from=date(2026, 11, 2))])
    with pytest.raises(
        InvalidValueError, match=r"nothing was imported: 1 faults, the first in row 3, amount"
    ):
        import_apply(user=found.accountant, site=found.site, kind="prices", name="a.xlsx", raw=raw)
    assert list(CostPrice.objects.values_list("pk", "amount")) == before
    assert not AuditEvent.objects.exists()


def test_two_faults_of_a_row_are_both_told_and_so_is_a_row_twice(found: Books) -> None:
    seen = preview(found, workbook([list(HEADING), row(amount="x", currency="USD"), row(), row()]))
    places = [(fault.row, fault.column) for fault in seen.faults]
    key = "kind, item, effective from"
    assert places == [(2, "amount"), (2, "currency"), (4, key)]


def test_merged_cells_are_told_where_they_are(found: Books) -> None:
    rows = [
        list(HEADING),
        row(),
        row(effective_from=date(2026, 11, 2)),
        row(effective_from=date(2026, 11, 3)),
    ]
    seen = preview(found, workbook(rows, "D2:D3"))
    assert [(fault.row, fault.column) for fault in seen.faults] == [(2, "amount"), (3, "amount")]
    assert "is merged with others (D2:D3)" in seen.faults[0].message
    with pytest.raises(InvalidValueError, match=r"the heading can't be read: .* \(A1:B1\)"):
        preview(found, workbook(rows, "A1:B1"))


def test_a_comma_that_makes_a_cell_of_its_own_is_told(found: Books) -> None:
    text = ",".join(HEADING) + "\nlabour,fitter,h,45.50,AUD,0.2,1.5,2026-11-01,agreement, page 3\n"
    (fault,) = preview(found, text).faults
    assert (fault.row, fault.column) == (2, "J")
    assert "that no heading names" in fault.message


def test_blanks_at_the_ends_are_nothing(found: Books) -> None:
    spaced = [f"\u00a0{cell} " if isinstance(cell, str) else cell for cell in row()]
    rows = [[f" {name}\u200b" for name in HEADING], [None] * 9, [*spaced, None, "  "], ["  "] * 9]
    seen = preview(found, workbook(rows))
    assert not seen.faults
    assert seen.added[0].values["item"] == "fitter"


def test_a_foreign_price_goes_in_after_its_exchange_rate(found: Books) -> None:
    CostRate.objects.create(
        site=found.site, kind="exchange", name="USD", rate=Decimal("1.5"), effective_from=date(2026, 6, 1)
    )
    seen = preview(
        found,
        workbook([list(HEADING), row(currency="usd"), row(currency="USD", effective_from=date(2026, 5, 31))]),
    )
    assert [(fault.row, fault.column) for fault in seen.faults] == [(3, "currency")]


def test_an_unknown_grade_is_noted_and_stops_nothing(found: Books) -> None:
    seen = preview(found, workbook([list(HEADING), row(item="fiter")]))
    assert not seen.faults
    assert [(note.row, note.column) for note in seen.notes] == [(2, "item")]
    assert "no technician here has the grade 'fiter'" in seen.notes[0].message


def test_what_is_on_file_already_is_not_held_against_a_closed_month(found: Books) -> None:
    raw = workbook([list(HEADING), row(effective_from=date(2026, 9, 1))])
    import_apply(user=found.accountant, site=found.site, kind="prices", name="a.xlsx", raw=raw)
    period_close(user=found.accountant, site=found.site, month=date(2026, 9, 1))
    events = AuditEvent.objects.count()
    again = import_apply(user=found.accountant, site=found.site, kind="prices", name="a.xlsx", raw=raw)
    assert (again.changes_nothing, again.unchanged, AuditEvent.objects.count()) == (True, 1, events)
    changed = workbook([list(HEADING), row(effective_from=date(2026, 9, 1), amount=46)])
    (fault,) = preview(found, changed).faults
    assert (fault.row, fault.column) == (2, "effective from")


def test_a_correction_is_on_record_before_and_after(found: Books) -> None:
    raw = workbook([list(HEADING), row(effective_from=date(2024, 1, 1), amount=41)])
    import_apply(
        user=found.accountant, site=found.site, kind="prices", name="a.xlsx", raw=raw, why="typing error"
    )
    event = AuditEvent.objects.get()
    assert event.details["changed"][0]["before"]["amount"] == "40.0000"
    assert event.details["changed"][0]["after"]["amount"] == "41"
    kept = CostPrice.objects.get(kind="labour")
    assert (kept.author, kept.reason) == (found.accountant, "typing error")


@pytest.mark.parametrize(
    ("line", "column", "words"),
    [
        (
            "A1,sidewall,giant,2025-03-04,900,,yes",
            "size class",
            "'giant' is no size class of the site (large)",
        ),
        ("A1,tread,large,2025-03-04,900,,yes", "zone", "none of"),
        ("A1,sidewall,large,2099-03-04,900,,yes", "repaired on", "is still to come"),
        ("A1,sidewall,large,2026-11-20,9000,,yes", "hours", "since the repair"),
        ("A1,sidewall,large,2025-03-04,100,9000,yes", "distance km", "faster than 80 km/h"),
        ("A1,sidewall,large,2025-03-04,900,,maybe", "failed", "is neither yes nor no"),
        ("A1,sidewall,large,2025-03-04,900.25,,no", "hours", "1 decimal place"),
    ],
)
def test_a_past_repair_that_cannot_be(found: Books, line: str, column: str, words: str) -> None:
    text = f"serial,zone,size class,repaired on,hours,distance km,failed\n{line}\n"
    (fault,) = preview(found, text, "outcomes").faults
    assert (fault.row, fault.column) == (2, column)
    assert words in fault.message
    assert not CostOutcome.objects.exists()


@pytest.mark.parametrize(
    ("kind", "text", "column"),
    [
        ("rates", "kind,name,rate,effective from,source\ntax,levy,10,2026-11-01,x", "rate"),
        ("rates", "kind,name,rate,effective from,source\nexchange,euro,1.6,2026-11-01,x", "name"),
        ("rates", "kind,name,rate,effective from,source\nexchange,AUD,1,2026-11-01,x", "name"),
        ("rates", "kind,name,rate,effective from,source\nexchange,USD,0,2026-11-01,x", "rate"),
        ("stock", "size,on hand\n27.00R49,2.5", "on hand"),
        ("stock", "size,on hand\n27.00R49,-1", "on hand"),
        ("stock", "size,on hand,counted on\n27.00R49,1,2099-01-01", "counted on"),
        (
            "heater_sets",
            "heater set,bought on,first cost,salvage,life years,life hours,source\nH1,2025-01-01,9,10,5,9,x",
            "salvage",
        ),
        (
            "heater_sets",
            "heater set,bought on,first cost,life years,life hours,source\nH7,2025-01-01,9,5,9,x",
            "heater set",
        ),
    ],
)
def test_rules_of_the_other_books(found: Books, kind: str, text: str, column: str) -> None:
    (fault,) = preview(found, text, kind).faults
    assert (fault.row, fault.column) == (2, column)


def test_a_file_of_an_old_kind_or_of_another_is_named(found: Books) -> None:
    with pytest.raises(InvalidValueError, match="of an old kind: save it as XLSX"):
        preview(found, b"\xd0\xcf\x11\xe0" + bytes(600))
    with pytest.raises(InvalidValueError, match="no sound XLSX"):
        preview(found, b"PK\x03\x04" + bytes(600))
    # A workbook is known by its bytes, whatever it is called.
    assert preview(found, workbook([list(HEADING), row()])).added


def test_times_of_day_and_whole_numbers_of_a_workbook(found: Books) -> None:
    seen = preview(found, workbook([list(HEADING), row(item=12.0), row(effective_from=time(6, 30))]))
    assert [(fault.row, fault.column) for fault in seen.faults] == [(3, "effective from")]
    assert seen.added[0].values["item"] == "12"
