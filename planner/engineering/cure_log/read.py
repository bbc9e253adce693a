"""Rows of any logger into a cure log: nothing is dropped or mended without a finding."""

from collections.abc import Mapping, Sequence
from datetime import datetime

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.domain.sentences import counted as ngettext
from planner.engineering.cure_log.clock import elapsed_as_told, elapsed_from_clock
from planner.engineering.cure_log.columns import ColumnMap, TimeKind
from planner.engineering.cure_log.finding import Finding, FindingKind
from planner.engineering.cure_log.log import CureLog
from planner.engineering.cure_log.times import Cell, clock_times, clock_words, elapsed_minutes, number
from planner.engineering.cure_log.units import celsius, kilopascal
from planner.engineering.heat.tridiagonal import FloatArray

Row = Mapping[str, Cell]

LONGEST_ROWS = 700_000
"""About eight days at one reading a second [-]."""


def cure_log_read(rows: Sequence[Row], columns: ColumnMap) -> CureLog:
    """Read a logger's rows as they stand.

    Args:
        rows: one mapping of column name to cell for each reading.
        columns: which column is what, and in which unit.

    Returns:
        the log in elapsed minutes, °C and kPa, with what was odd about reading it. Rows without a time are
        left out and told of.

    Raises:
        InvalidValueError: a column is missing, most times cannot be read, or there are too many rows.

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
    kept, time_min, clock, began = _time(rows, columns)
    if _runs_back(clock, len(kept)):
        rows = rows[::-1]
        kept, time_min, clock, began = _time(rows, columns)
        clock = (_newest_first(time_min), *clock)
    named = (columns.inside, columns.outside, *columns.pressure)
    values = {name: np.array([number(rows[place].get(name)) for place in kept]) for name in named}
    pressures = [kilopascal(values[name], columns.pressure_unit) for name in columns.pressure]
    return CureLog(
        time_min=time_min,
        inside_c=celsius(values[columns.inside], columns.temperature_unit),
        outside_c=celsius(values[columns.outside], columns.temperature_unit),
        pressure_kpa=np.min(pressures, axis=0) if pressures else np.array([]),
        findings=(*clock, *_unreadable(values, time_min, kept)),
        began=began,
    )


def _check_table(rows: Sequence[Row], columns: ColumnMap) -> None:
    if not rows:
        raise InvalidValueError(_("the log has no rows"))
    if len(rows) > LONGEST_ROWS:
        raise InvalidValueError(
            _(
                "the log has {count} rows; at most {longest_rows} are read",
                count=len(rows),
                longest_rows=LONGEST_ROWS,
            )
        )
    missing = [name for name in columns.names if name not in rows[0]]
    if missing:
        found = ", ".join(map(str, rows[0])) or "none"
        raise InvalidValueError(
            _("the log has no column {missing}; its columns are {found}", missing=tuple(missing), found=found)
        )


def _time(rows: Sequence[Row], columns: ColumnMap) -> tuple[list[int], FloatArray, tuple[Finding, ...], str]:
    """The rows that have a time, their elapsed minutes, what was odd, and the first time by a clock."""
    if columns.time_kind is TimeKind.CLOCK:
        clock = clock_times([_moment(row, columns) for row in rows])
        kept = [place for place, time in enumerate(clock) if time is not None]
        _refuse_most(rows, columns, kept)
        times = [time for time in clock if time is not None]
        if len({time.tzinfo is None for time in times}) > 1:
            raise InvalidValueError(_("some times of the log carry an offset from UTC and some do not"))
        time_min, odd = elapsed_from_clock(times, columns.time_zone)
        began = clock_words(times[0])
    else:
        seconds = columns.time_kind is TimeKind.ELAPSED_SECONDS
        told = np.array([elapsed_minutes(row[columns.time], seconds=seconds) for row in rows])
        kept = np.flatnonzero(np.isfinite(told)).tolist()
        _refuse_most(rows, columns, kept)
        time_min, odd = elapsed_as_told(told[kept])
        began = ""
    return kept, time_min, (*_untimed(rows, kept, time_min), *odd), began


def _runs_back(clock: Sequence[Finding], readings: int) -> bool:
    """Whether the clock went back at nearly every reading: the newest stands first."""
    return readings > 1 and sum(found.kind is FindingKind.CLOCK_JUMP for found in clock) > 0.9 * (
        readings - 1
    )


def _newest_first(time_min: FloatArray) -> Finding:
    text = _("the file has its newest reading first: it was read from its end")
    return Finding(
        kind=FindingKind.NEWEST_FIRST, message=text, from_min=float(time_min[0]), to_min=float(time_min[0])
    )


def _moment(row: Row, columns: ColumnMap) -> Cell:
    """The clock time of a row, its date from a column of its own where there is one."""
    if columns.date is None:
        return row[columns.time]
    date, time = row[columns.date], row[columns.time]
    day = date.date().isoformat() if isinstance(date, datetime) else date
    return f"{day} {time.time().isoformat() if isinstance(time, datetime) else time}"


def _refuse_most(rows: Sequence[Row], columns: ColumnMap, kept: Sequence[int]) -> None:
    """Refuse a column that holds no times; a stray row or two is told of instead."""
    if 2 * len(kept) > len(rows):
        return
    place = next(place for place in range(len(rows)) if place not in set(kept))
    text = str(rows[place][columns.time]).strip()
    if columns.time_kind is TimeKind.CLOCK:
        raise InvalidValueError(
            _(
                "row {place}: {text:quoted} is not a time; write it as 2026-10-03 18:05:00",
                place=place + 1,
                text=text,
            )
        )
    raise InvalidValueError(
        _("row {place}: {text:quoted} is not an elapsed time", place=place + 1, text=text)
    )


def _untimed(rows: Sequence[Row], kept: Sequence[int], time_min: FloatArray) -> list[Finding]:
    if len(kept) == len(rows):
        return []
    first = next(place for place, held in enumerate((*kept, len(rows))) if place != held)
    at = float(time_min[max(first - 1, 0)])
    count = len(rows) - len(kept)
    text = ngettext(
        "{n} row without a readable time left out, first row {first}",
        "{n} rows without a readable time left out, first row {first}",
        count,
        first=first + 1,
    )
    return [Finding(kind=FindingKind.UNREADABLE, message=text, from_min=at, to_min=at)]


def _unreadable(values: Mapping[str, FloatArray], time_min: FloatArray, kept: Sequence[int]) -> list[Finding]:
    found = []
    for name, column in values.items():
        places = np.flatnonzero(~np.isfinite(column))
        if len(places):
            found.append(
                Finding(
                    kind=FindingKind.UNREADABLE,
                    message=_(
                        "{count} readings of {name} are not numbers, first in row {first}",
                        count=len(places),
                        name=name,
                        first=int(kept[places[0]]) + 1,
                    ),
                    from_min=float(time_min[places[0]]),
                    to_min=float(time_min[places[-1]]),
                )
            )
    return found
