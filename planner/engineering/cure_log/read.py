"""Rows of any logger into a cure log: nothing is dropped or mended without a finding."""

import math
import re
from collections.abc import Mapping, Sequence
from datetime import datetime

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.engineering.cure_log.clock import elapsed_as_told, elapsed_from_clock
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.finding import Finding, FindingKind
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.units import celsius, kilopascal
from planner.engineering.heat.tridiagonal import FloatArray

Cell = str | int | float | datetime | None
Row = Mapping[str, Cell]

LONGEST_ROWS = 700_000
"""About eight days at one reading a second [-]."""

CLOCK_FORMATS = ("%d/%m/%Y %H:%M:%S", "%d/%m/%Y %H:%M", "%d.%m.%Y %H:%M:%S", "%d.%m.%Y %H:%M")
HOURS = re.compile(r"(\d+):([0-5]?\d)(?::([0-5]?\d(?:\.\d+)?))?")


def cure_log_read(rows: Sequence[Row], columns: ColumnMap) -> CureLog:
    """Read a logger's rows as they stand.

    Args:
        rows: one mapping of column name to cell for each reading.
        columns: which column is what, and in which unit.

    Returns:
        the log in elapsed minutes, °C and kPa, with what was odd about reading it.

    Raises:
        InvalidValueError: a column is missing, a time cannot be read, or there are too many rows.

    >>> rows = [{"t": str(minute), "in": "140", "out": "139", "p": "30"} for minute in range(3)]
    >>> from planner.engineering.cure_log.units import PressureUnit
    >>> columns = ColumnMap(
    ...     time="t", inside="in", outside="out", pressure=("p",),
    ...     time_kind=TimeKind.ELAPSED_MINUTES, pressure_unit=PressureUnit.PSI,
    ... )
    >>> cure_log_read(rows, columns).pressure_kpa.round(1).tolist()
    [206.8, 206.8, 206.8]

    """
    _check_table(rows, columns)
    time_min, clock = _time(rows, columns)
    named = (columns.inside, columns.outside, *columns.pressure)
    values = {name: np.array([_number(row.get(name)) for row in rows]) for name in named}
    pressures = [kilopascal(values[name], columns.pressure_unit) for name in columns.pressure]
    return CureLog(
        time_min=time_min,
        inside_c=celsius(values[columns.inside], columns.temperature_unit),
        outside_c=celsius(values[columns.outside], columns.temperature_unit),
        pressure_kpa=np.min(pressures, axis=0) if pressures else np.array([]),
        findings=(*clock, *_unreadable(values, time_min)),
    )


def _check_table(rows: Sequence[Row], columns: ColumnMap) -> None:
    if not rows:
        raise InvalidValueError("the log has no rows")
    if len(rows) > LONGEST_ROWS:
        raise InvalidValueError(f"the log has {len(rows)} rows; at most {LONGEST_ROWS} are read")
    missing = [name for name in columns.names if name not in rows[0]]
    if missing:
        found = ", ".join(map(str, rows[0])) or "none"
        raise InvalidValueError(f"the log has no column {', '.join(missing)}; its columns are {found}")


def _time(rows: Sequence[Row], columns: ColumnMap) -> tuple[FloatArray, tuple[Finding, ...]]:
    if columns.time_kind is TimeKind.CLOCK:
        times = [_clock(row[columns.time], place) for place, row in enumerate(rows, start=1)]
        if len({time.tzinfo is None for time in times}) > 1:
            raise InvalidValueError("some times of the log carry an offset from UTC and some do not")
        return elapsed_from_clock(times, columns.time_zone)
    seconds = columns.time_kind is TimeKind.ELAPSED_SECONDS
    elapsed = [_elapsed_min(row[columns.time], place, seconds) for place, row in enumerate(rows, start=1)]
    return elapsed_as_told(np.array(elapsed))


def _clock(cell: Cell, place: int) -> datetime:
    if isinstance(cell, datetime):
        return cell
    text = str(cell).strip()
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        pass
    for form in CLOCK_FORMATS:
        try:
            return datetime.strptime(text, form)  # noqa: DTZ007 - the logger's own wall time
        except ValueError:
            continue
    raise InvalidValueError(f"row {place}: {text!r} is not a time; write it as 2026-10-03 18:05:00")


def _elapsed_min(cell: Cell, place: int, seconds: bool) -> float:
    match = HOURS.fullmatch(str(cell).strip())
    if match:
        hours, minutes, rest = match.groups(default="0")
        return int(hours) * 60 + int(minutes) + float(rest) / 60
    number = _number(cell)
    if not 0 <= number < math.inf:
        raise InvalidValueError(f"row {place}: {cell!r} is not an elapsed time")
    return number / 60 if seconds else number


def _number(cell: Cell) -> float:
    """A cell as a number; not a number where it is none. A comma may be the decimal sign."""
    if isinstance(cell, int | float):
        return float(cell)
    text = str(cell).strip()
    try:
        return float(text.replace(",", ".") if text.count(",") == 1 and "." not in text else text)
    except ValueError:
        return math.nan


def _unreadable(values: Mapping[str, FloatArray], time_min: FloatArray) -> list[Finding]:
    found = []
    for name, column in values.items():
        places = np.flatnonzero(~np.isfinite(column))
        if len(places):
            found.append(
                Finding(
                    kind=FindingKind.UNREADABLE,
                    message=f"{len(places)} readings of {name} are not numbers, first in row {places[0] + 1}",
                    from_min=float(time_min[places[0]]),
                    to_min=float(time_min[places[-1]]),
                )
            )
    return found
