"""Words of the core as the bay says them: in the reader's language, with names for ids."""

import re
from datetime import datetime

from django.utils.formats import date_format

from planner.selectors.telling import in_words
from planner.web.supervisor.naming import Names

_TIME = re.compile(r"\d{4}-\d{2}-\d{2} \d{2}:\d{2}")


def breach_words(message: str, names: Names) -> str:
    """The message in the reader's language; each id of a technician, a position or a set is its name.

    The audit trail and older releases keep a message as bare text, where ids and full times stand in the
    words themselves.
    """
    words = in_words(message, names.resources)
    return words if getattr(message, "figures", None) else _of_bare_text(words, names)


def _of_bare_text(words: str, names: Names) -> str:
    for code in sorted(names.resources, key=len, reverse=True):
        words = re.sub(rf"(?<![\w-]){re.escape(code)}(?![\w-])", names.resources[code], words)
    # Already on the site's clock: only the day's name is wanted, not another zone.
    return _TIME.sub(lambda found: date_format(datetime.fromisoformat(found.group()), "D H:i"), words)
