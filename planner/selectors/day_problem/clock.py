"""Where wall times become bay time."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from planner.domain.bay_time import Span

_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class HorizonClock:
    """Counts elapsed minutes after the horizon's start, on the safe side where a time has seconds."""

    origin: datetime
    time_zone: str

    def floor(self, at: datetime) -> int:
        """The last whole minute at or before `at` [min]."""
        return (at - self.origin) // _MINUTE

    def ceiling(self, at: datetime) -> int:
        """The first whole minute at or after `at` [min]."""
        return -((self.origin - at) // _MINUTE)

    def inward(self, starts_at: datetime, ends_at: datetime) -> Span | None:
        """The whole minutes inside a stretch; None where there are none."""
        start, end = self.ceiling(starts_at), self.floor(ends_at)
        return Span(start, end) if start < end else None

    def outward(self, starts_at: datetime, ends_at: datetime) -> Span:
        """The whole minutes that cover a stretch."""
        return Span(self.floor(starts_at), self.ceiling(ends_at))

    def midnight(self, day: date) -> int:
        """The start of a wall day at the site [min]."""
        return self.floor(datetime.combine(day, time(), ZoneInfo(self.time_zone)))

    def day(self, at: datetime) -> date:
        """The wall day of a time at the site."""
        return at.astimezone(ZoneInfo(self.time_zone)).date()
