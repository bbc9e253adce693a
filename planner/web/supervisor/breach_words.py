"""A breach as the bay says it: names for ids, and times as on the timeline."""

import re
from collections.abc import Callable
from datetime import datetime

from django.utils.formats import date_format

from planner.web.supervisor.naming import Names

_MINUTE = re.compile(r"at minute (\d+)")
_TIME = re.compile(r"\d{4}-\d{2}-\d{2} \d{2}:\d{2}")


def breach_words(message: str, names: Names, clock: Callable[[int], datetime]) -> str:
    """The message with every id of a technician, a position or a set replaced by its name.

    `clock` gives the site's time at a minute of the horizon.
    """
    message = resource_words(message, names)
    message = _MINUTE.sub(lambda found: f"at {date_format(clock(int(found.group(1))), 'D H:i')}", message)
    return _TIME.sub(lambda found: _short(found.group()), message)


def resource_words(message: str, names: Names) -> str:
    """The message with every id of a technician, a position or a set replaced by its name."""
    for code in sorted(names.resources, key=len, reverse=True):
        message = re.sub(rf"(?<![\w-]){re.escape(code)}(?![\w-])", names.resources[code], message)
    return message


def _short(time: str) -> str:
    # Already on the site's clock: only the day's name is wanted, not another zone.
    return date_format(datetime.fromisoformat(time), "D H:i")
