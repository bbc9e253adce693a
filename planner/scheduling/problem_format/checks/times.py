"""Times: ends after starts, a horizon of a sane length, nothing absurdly far from it."""

from collections.abc import Iterator
from datetime import timedelta
from zoneinfo import ZoneInfo

from planner.scheduling.faults import FaultList, Place, shown
from planner.scheduling.shapes import Row

LONGEST_HORIZON = timedelta(days=366)
FARTHEST = timedelta(days=3660)
"""How far any time of a file may lie from the horizon's start."""


def times_check(root: Row, faults: FaultList) -> None:
    """Check every time and span of a problem, and its time zone."""
    if root.has("time_zone"):
        _zone_check(root["time_zone"], root.at("time_zone"), faults)
    for row in rows_within(root):
        span_check(row, faults)
        _reach_check(row, root, faults)
    horizon = root.get("horizon")
    if horizon and horizon.has("start", "end") and horizon["end"] - horizon["start"] > LONGEST_HORIZON:
        faults.add(horizon.at("end"), f"the horizon must have at most {LONGEST_HORIZON.days} days")


def rows_within(row: Row) -> Iterator[Row]:
    """A row and every row inside it."""
    yield row
    for value in row.values.values():
        inner = [value] if isinstance(value, Row) else value
        if isinstance(inner, list):
            for item in inner:
                if isinstance(item, Row):
                    yield from rows_within(item)


def span_check(row: Row, faults: FaultList) -> None:
    """Note a span that does not end after it starts."""
    if row.has("start", "end") and row["end"] <= row["start"]:
        faults.add(row.at("end"), f"must be after its start, {row['start'].isoformat()}")


def _reach_check(row: Row, root: Row, faults: FaultList) -> None:
    horizon = root.get("horizon")
    if horizon is None or not horizon.has("start"):
        return
    for name in ("start", "end", "released_at", "needed_by"):
        if row.has(name) and abs(row[name] - horizon["start"]) > FARTHEST:
            faults.add(row.at(name), f"is more than {FARTHEST.days} days from the horizon's start")


def _zone_check(name: str, place: Place, faults: FaultList) -> None:
    try:
        ZoneInfo(name)
    except (ValueError, OSError, LookupError):
        faults.add(place, f"there is no time zone {shown(name)}: use an IANA name such as Australia/Perth")
