"""Texts that tell things apart, such as serials: written in one way, with nothing hidden in them."""

import unicodedata

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _

UNSEEN = dict.fromkeys(map(ord, "\u200b\u2060\ufeff"), None) | {ord("\u00a0"): " ", ord("\u202f"): " "}
"""Spaces that a spreadsheet or a web page leaves and that nobody sees, and what comes in their place."""


def key_text(text: str) -> str:
    """The text in its composed form (Unicode's NFC) without unseen spaces.

    Raises InvalidValueError where something else in it is not to be seen (Unicode's categories C and Z): no
    two things look the same.

    >>> key_text("A\u030a-1\u200b ") == "\u00c5-1"
    True

    """
    tidy = unicodedata.normalize("NFC", text.translate(UNSEEN)).strip()
    hidden = next((each for each in tidy if each != " " and unicodedata.category(each)[0] in "CZ"), None)
    if hidden is not None:
        raise InvalidValueError(
            _("a character in it is not to be seen, U+{ord:04X}: write it anew", ord=ord(hidden))
        )
    return tidy
