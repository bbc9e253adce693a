"""Times as a bay supervisor says them."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from planner.domain.problem import BayProblem


def local_time(problem: BayProblem, minute: int) -> datetime:
    """A moment in the bay's own time."""
    return (problem.origin + timedelta(minutes=minute)).astimezone(ZoneInfo(problem.time_zone))
