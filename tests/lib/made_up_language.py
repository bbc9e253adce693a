"""A language in which every message stands in brackets: what stands outside of them was never looked up."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.utils import translation

from tests.lib.catalogue import catalogue_messages
from tests.lib.page_words import Words

CATALOGUE = Path(__file__).resolve().parents[2] / "planner/locale/en/LC_MESSAGES/django.po"
GIVEN = frozenset({
    "Mine", "ridge", "planner", "supervisor", "Perth", "Australia", "WO", "Sidewall", "Skive", "Fill", "Rig",
    "Cure", "Cool", "Strip", "prep", "cure",
})  # fmt: skip
"""What the people of `tests.lib.mine` named so."""
MARKS = re.compile(r"⟦[^⟦⟧]*⟧")


class BracketedWords:
    """Says what the catalogue holds in brackets, and all else as it stands; without one, everything."""

    def __init__(self, catalogue: Path | None = None) -> None:
        self._known = None if catalogue is None else catalogue_messages(catalogue)

    def one(self, message: str) -> str:
        """A message."""
        is_known = bool(message) and (self._known is None or message in self._known)
        return f"⟦{message}⟧" if is_known else message

    def many(self, singular: str, plural: str, number: int) -> str:
        """A message with its plural."""
        return self.one(singular if number == 1 else plural)


def speak(words: BracketedWords, patch: pytest.MonkeyPatch) -> None:
    """Every translation comes in that language, until the test is over."""
    patch.setattr(translation._trans, "gettext", words.one, raising=False)
    patch.setattr(translation._trans, "ngettext", words.many, raising=False)
    patch.setattr(translation._trans, "pgettext", lambda _context, message: words.one(message), raising=False)


def left_over(page: str, given: frozenset[str]) -> Iterator[str]:
    """Words outside of every bracket that are not `given` by the people of the site."""
    reader = Words(also=given)
    reader.feed(outside(page))
    reader.close()
    lines = page.splitlines()
    yield from (f"{word} in {lines[line - 1].strip()[:300]}" for line, word in reader.found)


def outside(page: str) -> str:
    """What of a page stands outside of every bracket; brackets in brackets are one."""
    bare = re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.DOTALL)
    while MARKS.search(bare):
        bare = MARKS.sub("", bare)
    return bare
