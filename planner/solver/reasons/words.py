"""Times and durations as a bay supervisor says them."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from planner.domain.problem import BayProblem


def local_time(problem: BayProblem, minute: int) -> str:
    """A moment in the bay's own time, such as `Thu 5 Mar 14:20`."""
    moment = (problem.origin + timedelta(minutes=minute)).astimezone(ZoneInfo(problem.time_zone))
    return f"{moment:%a} {moment.day} {moment:%b %H:%M}"


def duration(minutes: int) -> str:
    """A length of time, such as `12 h 35 min`."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def listed(names: list[str], most: int = 3) -> str:
    """A few names in a row, and how many more there are."""
    shown = names[:most]
    more = len(names) - len(shown)
    if more:
        return f"{', '.join(shown)} and {more} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
