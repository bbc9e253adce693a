"""A sentence of the core: English by itself, and what it takes to say it in the reader's language.

The core knows no language but English. It marks a template with `_`, which the tool that writes the catalogue
finds by that name, and hands the figures over beside it:

>>> told = _("If every shift ran {longer_min:duration} longer it would be ready {ready:moment}.",
...          longer_min=65, ready="2026-03-05T14:20+08:00")
>>> told
'If every shift ran 1 h 5 min longer it would be ready Thu 5 Mar 14:20.'
>>> told.template
'If every shift ran {longer_min:duration} longer it would be ready {ready:moment}.'

It is text wherever text is wanted; whoever shows it looks the template up and writes the figures again.
"""

import math
import re
from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any, TypeAlias

Figure: TypeAlias = str | int | float | Decimal | date | tuple[str, ...] | None
"""What stands in a template; a sentence is text, so it may stand in another one."""

Teller: TypeAlias = Callable[[Figure, str], str]
"""Writes one figure; the second argument is the kind that the template asks for, empty where it asks none."""

UNITS = ("°C", "Δ°C", "kPa")
"""Units that a reader may have in others of their own; `Δ°C` is so many degrees more or less."""

_FIGURE = re.compile(r"{(\w+)(?::([^{}]*))?}")


class Sentence(str):
    """English text that remembers its template and figures.

    Attributes:
        template: the English words with `{name}` or `{name:kind}` for each figure.
        figures: the values by their names.
        many: the template for any number but one, where the words follow a number; `n` among the figures.

    """

    __slots__ = ("figures", "many", "template")
    template: str
    many: str
    figures: Mapping[str, Figure]

    def __new__(
        cls, template: str, figures: Mapping[str, Figure] = {}, *, many: str = "", text: str | None = None
    ) -> "Sentence":
        """Write it in English; `text` is how it was written before, where it comes from a store."""
        chosen = many if many and figures["n"] != 1 else template
        self = super().__new__(cls, filled(chosen, figures, english) if text is None else text)
        self.template, self.figures, self.many = template, figures, many
        return self

    def __getnewargs_ex__(self) -> tuple[tuple[str, Mapping[str, Figure]], dict[str, str]]:
        return (self.template, self.figures), {"many": self.many, "text": str(self)}


def _(template: str, /, **figures: object) -> Sentence:
    """Mark a template for the catalogue, and say it of these figures."""
    return Sentence(template, {name: _plain(value) for name, value in figures.items()})


def counted(template: str, many: str, n: int, /, **figures: object) -> Sentence:
    """Mark a template and the one for more than one; import it as `ngettext`, by which it is found."""
    plain = {name: _plain(value) for name, value in figures.items()}
    return Sentence(template, plain | {"n": n}, many=many)


def filled(template: str, figures: Mapping[str, Figure], teller: Teller) -> str:
    """The template with every figure as `teller` writes it; a name that has none stays as it stands."""

    def told(found: re.Match[str]) -> str:
        name, kind = found[1], found[2] or ""
        return teller(figures[name], kind) if name in figures else found[0]

    return _FIGURE.sub(told, template)


def sentence_of(error: BaseException) -> Sentence:
    """What an error says."""
    (first, *_rest) = (*error.args, None)
    return first if isinstance(first, Sentence) else Sentence(str(error))


def english(value: Figure, kind: str) -> str:
    """A figure as the core writes it itself."""
    if kind in KINDS:
        return KINDS[kind](value)
    number, _space, unit = kind.partition(" ")
    if unit in UNITS:
        return f"{format(value, number)} {unit.removeprefix('Δ')}"
    return ", ".join(value) if isinstance(value, tuple) else format(value, kind)


def duration(minutes: int) -> str:
    """A length of time, such as `12 h 35 min`."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def names_of(value: Figure) -> list[str]:
    """The names in a figure of many: a tuple, or how a store keeps one."""
    return list(value) if isinstance(value, tuple) else str(value).split(", ")


def moment_of(value: Figure) -> datetime:
    """The moment in a figure, which a store keeps as text."""
    return value if isinstance(value, datetime) else datetime.fromisoformat(str(value))


def named(names: list[str], most: int = 3) -> Sentence:
    """A few names in a row, and how many more there are.

    >>> named(["A", "B"]), named(["A", "B", "C", "D", "E"])
    ('A and B', 'A, B, C and 2 more')

    """
    shown, more = names[:most], len(names) - most
    if more > 0:
        return _("{names} and {count} more", names=tuple(shown), count=more)
    if len(shown) == 1:
        return _("{name}", name=shown[0])
    return _("{names} and {last}", names=tuple(shown[:-1]), last=shown[-1])


def either(words: Iterable[str]) -> Sentence:
    """One of several.

    >>> either(["accountant", "planner", "supervisor"])
    'accountant or planner or supervisor'

    """
    first, *rest = words
    told = _("{name}", name=first)
    for word in rest:
        told = _("{one} or {other}", one=told, other=word)
    return told


def joined(parts: Iterable[str], kind: str = "list") -> Sentence:
    """Several sentences as one: a `list`, a `series` with commas, or `lines`."""
    return Sentence(f"{{parts:{kind}}}", {"parts": tuple(parts)})


def _moment(value: Figure) -> str:
    at = moment_of(value)
    return f"{at:%a} {at.day} {at:%b %H:%M}"


KINDS: Mapping[str, Callable[[Figure], str]] = {
    "moment": _moment,
    "minute": lambda value: moment_of(value).strftime("%Y-%m-%d %H:%M"),
    "day_minute": lambda value: moment_of(value).strftime("%a %d %H:%M"),
    "duration": lambda value: duration(int(str(value))),
    "names": lambda value: named(names_of(value)),
    "list": lambda value: "; ".join(value) if isinstance(value, tuple) else str(value),
    "series": lambda value: ", ".join(value) if isinstance(value, tuple) else str(value),
    "lines": lambda value: "\n".join(value) if isinstance(value, tuple) else str(value),
    "capital": lambda value: str(value)[:1].upper() + str(value)[1:],
    "phrase": str,
    "quoted": repr,
}
"""How each kind of figure is written; any other kind is a format of a number, such as `g`.

A `moment` is local by the offset that it carries; a `phrase` is itself looked up in the catalogue.
"""


def _plain(value: object) -> Figure:
    """A figure that stays as it is; an error gives what it says, anything else its name."""
    if isinstance(value, BaseException):
        return sentence_of(value)
    if value is None or isinstance(value, str | int | float | Decimal | date):
        return value
    if isinstance(value, tuple | list):
        return tuple(str(each) if not isinstance(each, str) else each for each in value)
    return str(value)


def stored_figure(value: Figure) -> int | float | str | None:
    """A figure as a file keeps it, and from which its kind can still write it."""
    if value is None or (isinstance(value, int | float) and math.isfinite(value)):
        return value
    if isinstance(value, datetime):
        return value.isoformat(timespec="minutes")
    return ", ".join(value) if isinstance(value, tuple) else str(value)


Kept: TypeAlias = str | dict[str, object]


def kept(text: str) -> Kept:
    """As a column of JSON keeps it: the text alone where that is all, else with template and figures."""
    return _whole(text) if isinstance(text, Sentence) and text.figures else str(text)


def recalled(row: object) -> Sentence:
    """The sentence that was kept; what an older release kept as bare text is its own template."""
    if not isinstance(row, dict):
        return Sentence(str(row))
    figures = {str(name): _recalled_figure(value) for name, value in row["figures"].items()}
    return Sentence(row["template"], figures, many=row["many"], text=row["text"])


def _whole(told: Sentence) -> dict[str, object]:
    figures = {name: _kept_figure(value) for name, value in told.figures.items()}
    return {"text": str(told), "template": told.template, "many": told.many, "figures": figures}


def _kept_figure(value: Figure) -> object:
    if isinstance(value, Sentence):
        return _whole(value)
    return [_kept_figure(each) for each in value] if isinstance(value, tuple) else stored_figure(value)


def _recalled_figure(value: Any) -> Figure:
    if isinstance(value, list):
        return tuple(recalled(each) if isinstance(each, dict) else str(each) for each in value)
    if isinstance(value, dict):
        return recalled(value)
    figure: int | float | str | None = value
    return figure
