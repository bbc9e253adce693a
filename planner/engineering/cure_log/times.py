"""The times of a log as loggers write them, turned into clock times or elapsed minutes."""

import math
import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np

Cell = str | int | float | datetime | None

DATES = (
    "%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y", "%d-%m-%Y", "%Y/%m/%d", "%Y.%m.%d",
    "%d/%m/%y", "%m/%d/%y", "%d.%m.%y", "%d-%b-%Y", "%d %b %Y", "%d-%b-%y",
)  # fmt: skip
TIMES = ("%H:%M:%S", "%H:%M:%S.%f", "%H:%M", "%I:%M:%S %p", "%I:%M %p")
FORMATS = (*TIMES, *(f"{date} {time}" for date in DATES for time in TIMES))
SAMPLE = 200
"""So many times, first and last among them, decide in which form all are read [-]."""

HALF_DAY = timedelta(hours=12)
HALF_OF_DAY = re.compile(r"\s*([ap])\.?m\.?$", re.IGNORECASE)
HOURS = re.compile(r"(\d+):([0-5]?\d)(?::([0-5]?\d(?:[.,]\d+)?))?")
NO_YEAR = 1900
"""What a time of day is given where a day is needed."""

WORKBOOK_START = datetime(1899, 12, 30)  # noqa: DTZ001 - a workbook counts days from here, without a zone
WORKBOOK_DAYS = (20_000, 80_000)


def clock_times(cells: Sequence[Cell]) -> list[datetime | None]:
    """Clock times; None where a cell holds none.

    ISO 8601 is read as it is. Every other text is read in one form for the whole log: the one that reads
    most of it and, where day and month could be either, the one that makes the log shortest. Times without
    a date go on into the next day where they fall back by half a day or more.

    >>> [str(each) for each in clock_times(["06/07/2026 23:59", "06/08/2026 00:01"])]
    ['2026-06-07 23:59:00', '2026-06-08 00:01:00']

    """
    texts = [_normal(cell) for cell in cells]
    form = _form([text for text, cell in zip(texts, cells, strict=True) if _plain(cell, text) is None])
    times = [
        _plain(cell, text) or (None if form is None else _parsed(text, form))
        for cell, text in zip(cells, texts, strict=True)
    ]
    return _over_midnight(times) if form in TIMES else times


def clock_words(time: datetime) -> str:
    """A logger's time to the minute, without the day that a time of day does not have.

    >>> clock_words(datetime(2026, 6, 7, 23, 59))
    '2026-06-07 23:59'

    """
    return f"{time:%H:%M}" if time.year == NO_YEAR else time.isoformat(sep=" ", timespec="minutes")


def elapsed_minutes(cell: Cell, *, seconds: bool) -> float:
    """Elapsed minutes of a count or of hours, minutes and seconds; not a number where it is neither [min].

    >>> elapsed_minutes("1:30:30", seconds=False), elapsed_minutes("90", seconds=True)
    (90.5, 1.5)
    """
    match = HOURS.fullmatch(str(cell).strip())
    if match:
        hours, minutes, rest = match.groups(default="0")
        return int(hours) * 60 + int(minutes) + float(rest.replace(",", ".")) / 60
    counted = number(cell)
    if not 0 <= counted < math.inf:
        return math.nan
    return counted / 60 if seconds else counted


def number(cell: Cell) -> float:
    """A cell as a number; not a number where it is none. A comma may be the decimal sign."""
    if isinstance(cell, int | float):
        return float(cell)
    text = str(cell).strip()
    try:
        return float(text.replace(",", ".") if text.count(",") == 1 and "." not in text else text)
    except ValueError:
        return math.nan


def _plain(cell: Cell, text: str) -> datetime | None:
    """A clock time that needs no form: a workbook's, or ISO 8601."""
    if isinstance(cell, datetime):
        return cell
    if isinstance(cell, int | float):
        low, high = WORKBOOK_DAYS
        return WORKBOOK_START + timedelta(days=cell) if low < cell < high else None
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None


def _normal(cell: Cell) -> str:
    return HALF_OF_DAY.sub(r" \1m", str(cell).strip().replace(", ", " "))


def _form(texts: Sequence[str]) -> str | None:
    """The form that reads most of a sample, the shortest log among equals; None where none reads any."""
    if not texts:
        return None
    places = np.unique(np.linspace(0, len(texts) - 1, SAMPLE).astype(int))
    best: tuple[float, float] = (0, 0)
    found = None
    for form in FORMATS:
        read = [time for place in places if (time := _parsed(texts[place], form)) is not None]
        if read:
            rank = (len(read), -(max(read) - min(read)).total_seconds())
            if found is None or rank > best:
                best, found = rank, form
    return found


def _parsed(text: str, form: str) -> datetime | None:
    try:
        return datetime.strptime(text, form)  # noqa: DTZ007 - the logger's own wall time
    except ValueError:
        return None


def _over_midnight(times: Sequence[datetime | None]) -> list[datetime | None]:
    """Times of day, each a day later than told for every time that the clock fell back by half a day."""
    told = [time for time in times if time is not None]
    fell = iter([0, *np.cumsum([before - after > HALF_DAY for before, after in pairwise(told)]).tolist()])
    return [None if time is None else time + timedelta(days=next(fell)) for time in times]
