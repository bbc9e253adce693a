"""Times as loggers write them."""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from planner.domain.cure_verdict import CureVerdict
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.finding import FindingKind
from planner.engineering.cure_log.judge import cure_judge
from planner.engineering.cure_log.read import Row, cure_log_read
from planner.engineering.cure_log.times import Cell, clock_times, elapsed_minutes
from tests.lib.cure_logs import COLUMNS, PLAN, readings

LATE = datetime(2026, 6, 7, 23, 30)  # noqa: DTZ001 - a logger's wall time


def minutes(cells: list[Cell]) -> list[float]:
    """Minutes after the first of them."""
    times = clock_times(cells)
    assert times[0] is not None
    return [float("nan") if each is None else (each - times[0]).total_seconds() / 60 for each in times]


@pytest.mark.parametrize(
    "form",
    [
        "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M", "%d/%m/%Y %H:%M", "%m/%d/%Y %I:%M %p", "%d.%m.%Y %H:%M:%S",
        "%Y/%m/%d %H:%M", "%d-%b-%Y %H:%M", "%m/%d/%y %H:%M:%S", "%d/%m/%Y, %H:%M", "%H:%M:%S", "%I:%M:%S%p",
    ],
)  # fmt: skip
def test_an_hour_over_midnight_is_an_hour_in_every_form(form: str) -> None:
    """7 June 23:30 to 8 June 00:30: the sixth of July and August would be a month apart."""
    cells: list[Cell] = [(LATE + timedelta(minutes=each)).strftime(form) for each in range(0, 61, 10)]
    assert minutes(cells) == [0, 10, 20, 30, 40, 50, 60]


def test_days_of_a_workbook_are_times() -> None:
    """46000 is 9 December 2025; a quarter of a day is 360 min."""
    assert minutes([46_000.0, 46_000.25]) == [0, 360]
    assert clock_times([46_000.0]) == [datetime(2025, 12, 9)]  # noqa: DTZ001 - a workbook has no zone


def test_a_cell_without_a_time_is_none() -> None:
    assert clock_times(["08:00", "", "END", None])[1:] == [None, None, None]
    assert np.isnan(elapsed_minutes("END", seconds=False))


def test_a_date_in_a_column_of_its_own() -> None:
    columns = ColumnMap(time="t", date="d", inside="a", outside="b")
    rows: list[Row] = [
        {"d": "7/6/2026", "t": "23:59:00", "a": 60, "b": 60},
        {"d": datetime(2026, 6, 8), "t": "00:01:00", "a": 60, "b": 60},  # noqa: DTZ001 - of a workbook
        {"d": "8/6/2026", "t": "00:02:00", "a": 60, "b": 60},
    ]
    assert cure_log_read([rows[0], rows[2], rows[2]], columns).time_min.tolist() == [0, 3, 3]
    assert cure_log_read([rows[1]] * 3, columns).time_min.tolist() == [0, 0, 0]


def test_stray_rows_are_left_out_and_told() -> None:
    columns = ColumnMap(time="t", inside="a", outside="b", time_kind=TimeKind.ELAPSED_MINUTES)
    rows: list[Row] = [{"t": each, "a": 60, "b": 60} for each in (0, 1, "RESTART", 3, 4, "END")]
    log = cure_log_read(rows, columns)
    assert log.time_min.tolist() == [0, 1, 3, 4]
    assert log.findings[0].message == "2 rows without a readable time left out, first row 3"


def test_the_newest_first_is_turned_and_told() -> None:
    table = good_rows()[::-1]
    log = cure_log_read(table, COLUMNS)
    assert [finding.kind for finding in log.findings] == [FindingKind.NEWEST_FIRST]
    assert log.time_min[-1] == 290
    assert cure_judge(log, PLAN).verdict is CureVerdict.WITHIN_PLAN


def good_rows(step_min: float = 1.0, zone: str = "UTC", start: datetime = LATE) -> list[Row]:
    """The good log by a clock of the zone that starts at a moment of UTC."""
    begin = start.replace(tzinfo=ZoneInfo("UTC"))
    rows: list[Row] = []
    for when, inside, outside, bag in zip(*readings(step_min), strict=True):
        wall = (begin + timedelta(minutes=float(when))).astimezone(ZoneInfo(zone))
        rows.append({"Time": f"{wall:%Y-%m-%d %H:%M:%S}", "In": inside, "Out": outside, "Bag": bag})
    return rows


@pytest.mark.parametrize("step_min", [0.5, 5.0, 10.0])
@pytest.mark.parametrize(
    ("zone", "start"),
    [
        ("Australia/Sydney", datetime(2026, 10, 3, 14, 0)),  # noqa: DTZ001 - UTC; 2:00 becomes 3:00 at 16:00
        ("Australia/Sydney", datetime(2026, 4, 4, 13, 40)),  # noqa: DTZ001 - UTC; 3:00 becomes 2:00 at 16:00
        ("America/New_York", datetime(2026, 3, 8, 5, 0)),  # noqa: DTZ001 - UTC; 2:00 becomes 3:00 at 7:00
        ("America/New_York", datetime(2026, 11, 1, 4, 0)),  # noqa: DTZ001 - UTC; 2:00 becomes 1:00 at 6:00
    ],
    ids=["Sydney forward", "Sydney back", "New York forward", "New York back"],
)
def test_a_clock_change_counts_through_however_often_it_was_read(
    zone: str, start: datetime, step_min: float
) -> None:
    """IANA time zone database; as many minutes as without a change."""
    columns = replace(COLUMNS, time_zone=zone)
    log = cure_log_read(good_rows(step_min, zone, start), columns)
    assert log.time_min[-1] == pytest.approx(readings(step_min)[0][-1])
    assert [finding.kind for finding in log.findings] == [FindingKind.CLOCK_CHANGE]
