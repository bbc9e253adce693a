"""Words in a template that no translation could reach: text and spoken attributes outside the marks."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser

_MARKED = re.compile(
    r"{%\s*blocktrans(?:late)?\b.*?{%\s*endblocktrans(?:late)?\s*%}|{%\s*comment\b.*?{%\s*endcomment\s*%}|{#.*?#}",
    re.DOTALL,
)
_SILENT = re.compile(r"{%.*?%}|{{.*?}}", re.DOTALL)
_WORD = re.compile(r"[^\W\d_]{2,}")
_FALLBACK = re.compile(r"""\|default(?:_if_none)?:["'][^"']*[^\W\d_]{2,}""")
SPOKEN = frozenset({"aria-label", "aria-description", "alt", "placeholder", "title", "data-unreachable"})
UNTOLD = frozenset({"script", "style"})
SAME_EVERYWHERE = frozenset(
    {"Tyrewright", "mm", "min", "kW", "kPa", "bar", "psi", "PDF", "XLSX", "CSV", "SHA"}
)
"""A name, symbols of units (SI writes them alike in every language) and of file formats."""


class Words(HTMLParser):
    """Collects the words that a reader sees or hears, each with its line."""

    def __init__(self, also: frozenset[str] = frozenset()) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[int, str]] = []
        self._also = SAME_EVERYWHERE | also
        self._open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """The attributes that are spoken or shown; a button's value is its words."""
        if tag in UNTOLD:
            self._open.append(tag)
        for name, value in attrs:
            if name in SPOKEN:
                self._keep(value or "")

    def handle_endtag(self, tag: str) -> None:
        """A script or style ends."""
        if self._open and self._open[-1] == tag:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        """Text between tags."""
        if not self._open:
            self._keep(data)

    def _keep(self, text: str) -> None:
        line = self.getpos()[0]
        self.found += [(line, word) for word in _WORD.findall(text) if word not in self._also]


def unmarked_words(template: str) -> Iterator[tuple[int, str]]:
    """Every word outside a mark with its line; tags and variables say nothing by themselves."""
    # Line breaks stay, so that lines are those of the file.
    bare = _MARKED.sub(lambda mark: "\n" * mark.group().count("\n"), template)
    for found in _FALLBACK.finditer(bare):
        yield bare.count("\n", 0, found.start()) + 1, found.group()
    bare = _SILENT.sub(lambda tag: "\n" * tag.group().count("\n"), bare)
    reader = Words()
    reader.feed(bare)
    reader.close()
    yield from reader.found
