"""From bay time to the bay's own clock."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from planner.domain.problem import BayProblem

BayClock = Callable[[int], datetime]


def bay_clock(problem: BayProblem) -> BayClock:
    """A function from minutes after the horizon's start to the time on the clock of the problem's zone."""
    zone, start = ZoneInfo(problem.time_zone), problem.origin.astimezone(UTC)
    return lambda minutes: (start + timedelta(minutes=minutes)).astimezone(zone)
