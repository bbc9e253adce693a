"""Files of loggers: CSV in its dialects, XLSX, and files that are refused."""

import io
from datetime import datetime, timedelta
from typing import Any

import pytest
from openpyxl import Workbook

from planner.domain.cure_verdict import CureVerdict
from planner.domain.errors import InvalidValueError
from planner.engineering.cure_log.judge import cure_judge
from planner.engineering.cure_log.read import cure_log_read
from planner.services.cure_log_file import cure_log_rows
from tests.lib.cure_logs import COLUMNS, PLAN, readings, rows


def workbook(*table: tuple[object, ...]) -> bytes:
    book = Workbook()
    sheet: Any = book.active
    for row in table:
        sheet.append(row)
    raw = io.BytesIO()
    book.save(raw)
    return raw.getvalue()


@pytest.mark.parametrize("raw", [
    b"Time,In\n08:00,60\n08:01,61\n",
    b"\xef\xbb\xbfTime;In\r\n08:00;60\r\n\r\n08:01;61\r\n",
    b"\n\nTime\tIn\n08:00\t60\n08:01\t61",
    "Time,In\n08:00,60\n08:01,61\n".encode("utf-16"),
])  # fmt: skip
def test_text_in_its_dialects(raw: bytes) -> None:
    assert cure_log_rows(raw=raw, name="a.csv") == [
        {"Time": "08:00", "In": "60"},
        {"Time": "08:01", "In": "61"},
    ]


def test_short_rows_are_kept_with_nothing_in_them() -> None:
    assert cure_log_rows(raw=b"Time,In\n08:00\n", name="a.csv") == [{"Time": "08:00", "In": None}]


def test_workbook() -> None:
    when = datetime(2026, 8, 3, 8, 0)  # noqa: DTZ001 - a logger's wall time
    raw = workbook(("Time", "In"), (when, 60.5))
    assert cure_log_rows(raw=raw, name="a.xlsx") == [{"Time": when, "In": 60.5}]


def test_same_cure_from_text_and_from_a_workbook() -> None:
    table = rows(*readings())
    text = "\n".join(["Time,In,Out,Bag", *(",".join(map(str, row.values())) for row in table)]).encode()
    book = workbook(("Time", "In", "Out", "Bag"), *(tuple(row.values()) for row in table))
    judgements = [
        cure_judge(cure_log_read(cure_log_rows(raw=raw, name="log"), COLUMNS), PLAN) for raw in (text, book)
    ]
    assert [each.verdict for each in judgements] == [CureVerdict.WITHIN_PLAN] * 2
    from_text, from_book = (each.worth for each in judgements)
    assert from_text is not None
    assert from_book is not None
    assert from_text.likely_min == pytest.approx(from_book.likely_min, abs=1e-9)


def test_what_stands_above_the_names_is_no_reading() -> None:
    """Two lines of the logger's own, the names, a line of units; decimal commas."""
    raw = "Device;X-1\nInterval;60\nTime;In;Out\n;°C;°C\n08:00;60,5;61\n08:01;61,5;62\n".encode()
    assert cure_log_rows(raw=raw, name="a.csv") == [
        {"Time": "08:00", "In °C": "60,5", "Out °C": "61"},
        {"Time": "08:01", "In °C": "61,5", "Out °C": "62"},
    ]


def test_every_column_keeps_its_place_and_a_name_of_its_own() -> None:
    """A column without a name must not move the next one's readings under it."""
    raw = b"Time,,Temp,Temp\n08:00,7,60,61\n08:01,7,61,62\n"
    first = cure_log_rows(raw=raw, name="a.csv")[0]
    assert first == {"Time": "08:00", "column 2": "7", "Temp": "60", "Temp (2)": "61"}


def test_a_file_without_names_loses_no_reading() -> None:
    raw = b"0,60,61\n1,61,62\n"
    assert cure_log_rows(raw=raw, name="a.csv")[0] == {"column 1": "0", "column 2": "60", "column 3": "61"}


def test_hours_of_a_workbook_beyond_a_day() -> None:
    raw = workbook(("Elapsed", "In"), (timedelta(hours=1, minutes=30), 60), (timedelta(hours=25), 61))
    assert [row["Elapsed"] for row in cure_log_rows(raw=raw, name="a.xlsx")] == ["1:30:00", "25:00:00"]


@pytest.mark.parametrize(
    ("raw", "message"),
    [
        (b"", "is empty"),
        (b"\n \n", "no rows|not a table"),
        (b"\x00\x01\x02\x03", "neither text nor a workbook"),
        (b"PK\x03\x04 broken", "not a workbook"),
    ],
)
def test_refused_files_name_the_fault(raw: bytes, message: str) -> None:
    with pytest.raises(InvalidValueError, match=message):
        cure_log_rows(raw=raw, name="a")
