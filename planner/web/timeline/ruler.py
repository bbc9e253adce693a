"""The ruler above the lanes: days and hours of the bay's own clock, also on the days on which it changes."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from planner.web.timeline.scale import Scale, Zoom

_HOURS_BETWEEN_TICKS = {Zoom.SHIFT: 1, Zoom.DAY: 3, Zoom.WEEK: 12}
_QUARTER = 15  # every zone's full hours lie on a quarter of UTC's

_NAME_WIDTH = 90.0
"""What the day's name at the board's start needs [px]; no second name stands on it."""
_HOUR_WIDTH = 40.0
"""What an hour needs [px]; that of the board's start gives way to the first full one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A line of the ruler; `is_day` where a day or the board begins.

    `names_day` where the day is written, `names_hour` where the hour is; a week names no midnight.
    """

    x: float
    at: datetime
    is_day: bool
    names_day: bool
    names_hour: bool


def local_time(origin: datetime, minute: int, zone: ZoneInfo) -> datetime:
    """The bay's own clock at a minute after the horizon's start."""
    return (origin.astimezone(UTC) + timedelta(minutes=minute)).astimezone(zone)


def ruler(scale: Scale, origin: datetime, zone: ZoneInfo) -> Iterator[Tick]:
    """The ticks of the whole board; hours are the wall clock's, distances are elapsed time."""
    every = _HOURS_BETWEEN_TICKS[scale.zoom]
    start = local_time(origin, scale.span.start, zone)
    to_midnight = 24 * 60 - start.hour * 60 - start.minute
    fits = scale.x(scale.span.start + to_midnight) >= _NAME_WIDTH
    hours = list(_full_hours(scale, origin, zone, every))
    has_room = scale.zoom is not Zoom.WEEK and (not hours or hours[0].x >= _HOUR_WIDTH)
    yield Tick(x=0.0, at=start, is_day=True, names_day=fits, names_hour=has_room)
    yield from hours


def _full_hours(scale: Scale, origin: datetime, zone: ZoneInfo, every: int) -> Iterator[Tick]:
    start = local_time(origin, scale.span.start, zone)
    first_quarter = scale.span.start + (-start.minute) % _QUARTER
    for minute in range(first_quarter, scale.span.end, _QUARTER):
        at = local_time(origin, minute, zone)
        if minute > scale.span.start and at.minute == 0 and at.hour % every == 0:
            again = scale.zoom is not Zoom.WEEK and at.hour % 6 == 0 and scale.x(minute) > 2 * _NAME_WIDTH
            is_day = at.hour == 0
            yield Tick(
                x=scale.x(minute),
                at=at,
                is_day=is_day,
                names_day=is_day or again,
                names_hour=scale.zoom is not Zoom.WEEK or not is_day,
            )
