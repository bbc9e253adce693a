"""The shape of a time: ISO 8601 with an offset from UTC, on a whole minute."""

import re
from dataclasses import dataclass
from datetime import datetime, timedelta

from planner.scheduling.faults import FaultList, Place, shown
from planner.scheduling.shapes.kinds import UNREAD, JsonSchema, Unread, kind_of

_TIME = r"^\d{4}-?\d\d-?\d\d[Tt ]\d\d:?\d\d(:?\d\d([.,]\d{1,9})?)?"
_OFFSET = r"([Zz]|[+-]\d\d(:?\d\d)?)$"
_FIRST_YEAR, _LAST_YEAR = 1990, 2200


@dataclass(frozen=True, slots=True)
class Moment:
    """A time with its offset, as `2026-03-02T06:00:00+08:00`."""

    def read(self, value: object, place: Place, faults: FaultList) -> datetime | Unread:
        """The time, aware of its offset."""
        if not isinstance(value, str):
            faults.add(place, f"must be a time as text, not {kind_of(value)}")
            return UNREAD
        time = _parsed(value)
        message = _objection(value, time)
        if time is None or message:
            faults.add(place, f"{message}, not {shown(value)}")
            return UNREAD
        return time

    def schema(self) -> JsonSchema:
        """A date-time whose offset may not be left out."""
        return {"type": "string", "pattern": _TIME + _OFFSET, "examples": ["2026-03-02T06:00:00+08:00"]}


def _parsed(text: str) -> datetime | None:
    if not re.search(_TIME, text, re.ASCII):
        return None
    try:
        return datetime.fromisoformat(text.upper())
    except ValueError:
        return None


def _objection(text: str, time: datetime | None) -> str | None:
    if time is None:
        return "must be a time such as 2026-03-02T06:00:00+08:00"
    offset = time.utcoffset()
    if offset is None or not re.search(_OFFSET, text, re.ASCII):
        return "must carry its offset from UTC"
    if time.second or time.microsecond or offset % timedelta(minutes=1):
        return "must be on a whole minute"
    if not _FIRST_YEAR <= time.year <= _LAST_YEAR:
        return f"must be in the years {_FIRST_YEAR} to {_LAST_YEAR}"
    return None
