"""Reading rows: times, units, clocks and faults of form."""

from datetime import datetime, timedelta

import numpy as np
import pytest

from planner.domain.cure_verdict import CureVerdict
from planner.domain.errors import InvalidValueError
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.finding import FindingKind
from planner.engineering.cure_log.judge import cure_judge
from planner.engineering.cure_log.read import Row, cure_log_read
from planner.engineering.cure_log.units import PressureUnit, TemperatureUnit, celsius, kilopascal
from tests.lib.cure_logs import COLUMNS, PLAN, readings, rows

SYDNEY = ColumnMap(
    time="Time",
    inside="In",
    outside="Out",
    pressure=("Bag",),
    pressure_unit=PressureUnit.PSI,
    time_zone="Australia/Sydney",
)


def wall_rows(start: datetime, change_min: int, shift_min: int) -> list[Row]:
    """The good log with its clock moved by `shift_min` from `change_min` on."""
    minutes, inside, outside, pressure = readings()
    wall = minutes + np.where(minutes >= change_min, shift_min, 0)
    return rows(wall, inside, outside, pressure, start=start)


@pytest.mark.parametrize(
    ("start", "change_min", "shift_min"),
    [
        (datetime(2026, 4, 5, 0, 30), 150, -60),  # noqa: DTZ001 - 3:00 becomes 2:00, 150 min after 0:30
        (datetime(2026, 10, 4, 0, 30), 90, 60),  # noqa: DTZ001 - 2:00 becomes 3:00, 90 min after 0:30
    ],
    ids=["back in autumn", "forward in spring"],
)
def test_clock_change_in_the_middle_is_told_and_counted_through(
    start: datetime, change_min: int, shift_min: int
) -> None:
    """Australia/Sydney, IANA time zone database."""
    log = cure_log_read(wall_rows(start, change_min, shift_min), SYDNEY)
    assert [finding.kind for finding in log.findings] == [FindingKind.CLOCK_CHANGE]
    assert log.findings[0].from_min == change_min - 1
    assert log.time_min[-1] == 290
    assert cure_judge(log, PLAN).verdict is CureVerdict.WITHIN_PLAN


def test_clock_that_goes_back_without_a_zone_is_a_jump() -> None:
    log = cure_log_read(wall_rows(datetime(2026, 4, 5, 0, 30), 150, -60), COLUMNS)  # noqa: DTZ001
    assert [finding.kind for finding in log.findings] == [FindingKind.CLOCK_JUMP]
    assert "back by 60 min" in log.findings[0].message or "back by 61 min" in log.findings[0].message
    assert cure_judge(log, PLAN).verdict is CureVerdict.NEEDS_DECISION


def test_clock_that_goes_forward_without_a_zone_is_a_gap() -> None:
    log = cure_log_read(wall_rows(datetime(2026, 10, 4, 0, 30), 90, 60), COLUMNS)  # noqa: DTZ001
    judgement = cure_judge(log, PLAN)
    assert [finding.kind for finding in judgement.findings] == [FindingKind.GAP]
    assert judgement.verdict is not CureVerdict.WITHIN_PLAN


def test_jump_on_another_day_than_the_zones_change_stays_a_jump() -> None:
    log = cure_log_read(wall_rows(datetime(2026, 4, 6, 0, 30), 150, -60), SYDNEY)  # noqa: DTZ001
    assert [finding.kind for finding in log.findings] == [FindingKind.CLOCK_JUMP]


def test_times_with_an_offset_need_no_zone() -> None:
    """+11:00 before, +10:00 after: the differences are true as they stand."""
    start = datetime.fromisoformat("2026-04-05T02:57:00+11:00")
    texts = [start.isoformat(), (start + timedelta(minutes=2)).isoformat(), "2026-04-05T02:01:00+10:00"]
    log = cure_log_read([{"Time": text, "In": 60, "Out": 60, "Bag": 30} for text in texts], COLUMNS)
    assert log.time_min.tolist() == [0, 2, 4]
    assert log.findings == ()


@pytest.mark.parametrize(
    ("kind", "cells", "minutes"),
    [
        (TimeKind.ELAPSED_MINUTES, [0, 1.5, 3], [0, 1.5, 3]),
        (TimeKind.ELAPSED_SECONDS, ["0", "90", "180"], [0, 1.5, 3]),
        (TimeKind.ELAPSED_MINUTES, ["0:00:00", "0:01:30", "1:00:00"], [0, 1.5, 60]),
        (TimeKind.CLOCK, ["3/8/2026 08:00", "3/8/2026 08:01", "03/08/2026 09:00"], [0, 1, 60]),
    ],
)
def test_times_as_loggers_write_them(kind: TimeKind, cells: list[str | float], minutes: list[float]) -> None:
    mapping = ColumnMap(time="t", inside="a", outside="b", time_kind=kind)
    log = cure_log_read([{"t": cell, "a": 60, "b": "60,5"} for cell in cells], mapping)
    assert log.time_min == pytest.approx(minutes)
    assert log.outside_c.tolist() == [60.5] * 3


def test_lowest_bag_counts() -> None:
    mapping = ColumnMap(
        time="t", inside="a", outside="b", pressure=("p", "q"), time_kind=TimeKind.ELAPSED_MINUTES
    )
    log = cure_log_read([{"t": minute, "a": 60, "b": 60, "p": 200, "q": 150} for minute in range(3)], mapping)
    assert log.pressure_kpa.tolist() == [150] * 3


def test_readings_that_are_no_numbers_are_told() -> None:
    minutes, inside, outside, pressure = readings()
    table = [dict(row) for row in rows(minutes, inside, outside, pressure)]
    table[7]["In"] = "ERR"
    log = cure_log_read(table, COLUMNS)
    assert log.findings[0].message == "1 readings of In are not numbers, first in row 8"
    assert np.isnan(log.inside_c[7])
    assert cure_judge(log, PLAN).verdict is CureVerdict.NEEDS_DECISION


@pytest.mark.parametrize(
    ("table", "message"),
    [
        ([], "no rows"),
        ([{"Time": "2026-08-03 08:00", "In": 1, "Out": 1}], "no column Bag; its columns are Time, In, Out"),
        ([{"Time": "noon", "In": 1, "Out": 1, "Bag": 1}], "row 1: 'noon' is not a time"),
    ],
)
def test_faulty_tables_are_refused_with_the_fault_named(table: list[Row], message: str) -> None:
    with pytest.raises(InvalidValueError, match=message):
        cure_log_read(table, COLUMNS)


def test_one_column_cannot_serve_twice() -> None:
    with pytest.raises(InvalidValueError, match="serve only once"):
        ColumnMap(time="t", inside="a", outside="a")


def test_unknown_zone_is_refused() -> None:
    with pytest.raises(InvalidValueError, match="not a known time zone"):
        ColumnMap(time="t", inside="a", outside="b", time_zone="Mars/Base")


def test_temperatures_of_the_trade() -> None:
    """50, 70, 100, 120, 140 °C = 122, 158, 212, 248, 284 °F."""
    told = celsius(np.array([122.0, 158, 212, 248, 284]), TemperatureUnit.FAHRENHEIT)
    assert told == pytest.approx([50, 70, 100, 120, 140])


def test_pressures_of_the_trade() -> None:
    """30 psi = 206.842719 kPa (NIST SP 811, from memory); 2 bar = 200 kPa."""
    assert kilopascal(np.array(30.0), PressureUnit.PSI) == pytest.approx(206.842719, abs=1e-6)
    assert kilopascal(np.array(2.0), PressureUnit.BAR) == 200
