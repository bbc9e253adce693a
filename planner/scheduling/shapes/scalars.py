"""Shapes of single values other than numbers and times."""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from planner.scheduling.faults import FaultList, Place, shown
from planner.scheduling.shapes.kinds import UNREAD, JsonSchema, Shape, Unread, kind_of

Member = TypeVar("Member", bound=StrEnum)
Inner = TypeVar("Inner")

_CONTROL_FREE = r"^[^\x00-\x1f\x7f]*$"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Text on one line, not empty, at most `most` characters."""

    most: int = 200
    pattern: str = _CONTROL_FREE
    asks: str = "must be one line of readable text"

    def read(self, value: object, place: Place, faults: FaultList) -> str | Unread:
        """The text."""
        if not isinstance(value, str):
            faults.add(place, f"must be text, not {kind_of(value)}")
        elif not value:
            faults.add(place, "must not be empty")
        elif len(value) > self.most:
            faults.add(place, f"must have at most {self.most} characters, has {len(value)}")
        elif not re.search(self.pattern, value) or not _encodable(value):
            faults.add(place, f"{self.asks}, not {shown(value)}")
        else:
            return value
        return UNREAD

    def schema(self) -> JsonSchema:
        """A string with its bounds."""
        return {"type": "string", "minLength": 1, "maxLength": self.most, "pattern": self.pattern}


@dataclass(frozen=True, slots=True)
class Constant:
    """Exactly one text."""

    text: str

    def read(self, value: object, place: Place, faults: FaultList) -> str | Unread:
        """The text itself."""
        if value == self.text:
            return self.text
        faults.add(place, f"must be {shown(self.text)}, not {shown(value)}")
        return UNREAD

    def schema(self) -> JsonSchema:
        """A constant."""
        return {"const": self.text}


@dataclass(frozen=True, slots=True)
class Flag:
    """True or false."""

    def read(self, value: object, place: Place, faults: FaultList) -> bool | Unread:
        """The flag."""
        if isinstance(value, bool):
            return value
        faults.add(place, f"must be true or false, not {kind_of(value)}")
        return UNREAD

    def schema(self) -> JsonSchema:
        """A boolean."""
        return {"type": "boolean"}


@dataclass(frozen=True, slots=True)
class Choice(Generic[Member]):
    """One of a few words."""

    words: type[Member]

    def read(self, value: object, place: Place, faults: FaultList) -> Member | Unread:
        """The member that the word names."""
        if isinstance(value, str) and value in {member.value for member in self.words}:
            return self.words(value)
        allowed = ", ".join(member.value for member in self.words)
        faults.add(place, f"must be one of {allowed}, not {shown(value)}")
        return UNREAD

    def schema(self) -> JsonSchema:
        """An enumeration."""
        return {"enum": [member.value for member in self.words]}


@dataclass(frozen=True, slots=True)
class Nullable(Generic[Inner]):
    """The inner shape, or null."""

    inner: Shape[Inner]

    def read(self, value: object, place: Place, faults: FaultList) -> Inner | Unread | None:
        """The inner value, or None."""
        return None if value is None else self.inner.read(value, place, faults)

    def schema(self) -> JsonSchema:
        """Either of the two."""
        return {"anyOf": [self.inner.schema(), {"type": "null"}]}


def _encodable(text: str) -> bool:
    """Whether it can be written out again: JSON can spell half of a surrogate pair, UTF-8 cannot."""
    return text.isascii() or not any("\ud800" <= letter <= "\udfff" for letter in text)
