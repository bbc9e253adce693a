"""From roster patterns and exceptions to shifts in real time."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dateutil.rrule import rrulestr

from planner.models import RosterException, RosterPattern


@dataclass(frozen=True, slots=True, kw_only=True)
class RosteredShift:
    """A shift of one technician as it falls on the calendar, with its breaks [aware times]."""

    technician_id: int
    day: date
    starts_at: datetime
    ends_at: datetime
    breaks: tuple[tuple[datetime, datetime], ...] = ()


def rostered_shifts(
    patterns: Iterable[RosterPattern],
    exceptions: Iterable[RosterException],
    first_day: date,
    last_day: date,
    time_zone: str,
) -> Iterator[RosteredShift]:
    """Every shift that starts from `first_day` to `last_day`, both in it, at the site's wall time."""
    zone = ZoneInfo(time_zone)
    by_day = {(row.technician_id, row.day): row for row in exceptions}
    for row in by_day.values():
        if row.starts_at is not None and row.ends_at is not None and first_day <= row.day <= last_day:
            yield _shift(row.technician_id, row.day, row.starts_at, row.ends_at, zone, ())
    for pattern in patterns:
        breaks = [(each.after_minutes, each.minutes) for each in pattern.breaks.all()]
        for day in pattern_days(pattern, first_day, last_day):
            if (pattern.technician_id, day) not in by_day:
                yield _shift(pattern.technician_id, day, pattern.starts_at, pattern.ends_at, zone, breaks)


def pattern_days(pattern: RosterPattern, first_day: date, last_day: date) -> tuple[date, ...]:
    """The days in the range on which the pattern's rule falls, counted from its own first day."""
    last = min(last_day, pattern.last_day or last_day)
    rule = rrulestr(pattern.recurrence, dtstart=datetime.combine(pattern.first_day, time()))
    first = max(first_day, pattern.first_day)
    found = rule.between(datetime.combine(first, time()), datetime.combine(last, time()), inc=True)
    return tuple(each.date() for each in found)


def _shift(
    technician_id: int,
    day: date,
    starts_at: time,
    ends_at: time,
    zone: ZoneInfo,
    breaks: Iterable[tuple[int, int]],
) -> RosteredShift:
    """Both ends are wall times, so a shift over a clock change is an hour longer or shorter."""
    start = datetime.combine(day, starts_at, zone).astimezone(UTC)
    ends_on = day if ends_at > starts_at else day + timedelta(days=1)
    end = datetime.combine(ends_on, ends_at, zone).astimezone(UTC)
    pauses = [(start + timedelta(minutes=after), minutes) for after, minutes in breaks]
    return RosteredShift(
        technician_id=technician_id,
        day=day,
        starts_at=start,
        ends_at=end,
        breaks=tuple((at, min(at + timedelta(minutes=minutes), end)) for at, minutes in pauses if at < end),
    )
