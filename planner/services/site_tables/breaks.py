"""The breaks of a roster pattern as one line of text: `2:30+15 5:00+30`, from the shift's start."""

import re
from collections.abc import Iterable

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.models import PatternBreak, RosterPattern, Site, User
from planner.services.nouns import noun_add, noun_remove

_BREAK = re.compile(r"(\d{1,2}):([0-5]\d)\+(\d{1,3})")
BREAKS_HELP = "after the shift's start + minutes, such as 2:30+15 5:00+30"


def breaks_read(text: str) -> tuple[tuple[int, int], ...]:
    """Each break as minutes after the shift's start and its length [min], in order.

    >>> breaks_read("5:00+30, 2:30+15")
    ((150, 15), (300, 30))

    """
    found = []
    for part in re.split(r"[,;\s]+", text.strip()):
        if not part:
            continue
        told = _BREAK.fullmatch(part)
        if told is None:
            raise InvalidValueError(
                _("{part:quoted} is no break: write it {breaks_help}", part=part, breaks_help=BREAKS_HELP)
            )
        hours, minutes, length = (int(number) for number in told.groups())
        found.append((60 * hours + minutes, length))
    return tuple(sorted(found))


def breaks_words(breaks: Iterable[PatternBreak]) -> str:
    """The line of text for the breaks of a pattern."""
    ordered = sorted(breaks, key=lambda each: each.after_minutes)
    return " ".join(
        f"{each.after_minutes // 60}:{each.after_minutes % 60:02}+{each.minutes}" for each in ordered
    )


def breaks_set(*, user: User, site: Site, pattern: RosterPattern, text: str, why: str = "") -> bool:
    """Give a pattern these breaks and no others; whether that changed anything."""
    wanted = set(breaks_read(text))
    there = {(each.after_minutes, each.minutes): each for each in pattern.breaks.all()}
    for each in (there[key] for key in there.keys() - wanted):
        noun_remove(user=user, site=site, noun="patternbreak", row_id=each.pk, why=why or "breaks changed")
    for after, minutes in sorted(wanted - there.keys()):
        values = {"pattern": pattern, "after_minutes": after, "minutes": minutes}
        noun_add(user=user, site=site, noun="patternbreak", values=values, why=why)
    return wanted != there.keys()
