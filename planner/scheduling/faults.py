"""Faults of a file: each in one line with its place, all of them collected before anybody is told."""

import json
import re
from dataclasses import dataclass, field

from planner.domain.errors import UserError
from planner.domain.sentences import _

MOST_FAULTS = 200
"""Faults that are kept; the rest of a hopeless file is only counted."""

_PLAIN_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_-]{0,60}\Z")


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a file a value stands, written as `jobs[3].stages[2].minutes`; empty for the file itself."""

    text: str = ""

    def field(self, name: str) -> "Place":
        """The place of a field of the object here."""
        if not _PLAIN_NAME.match(name):
            return Place(f"{self.text}[{shown(name)}]")
        return Place(f"{self.text}.{name}" if self.text else name)

    def item(self, index: int) -> "Place":
        """The place of an item of the list here, counted from 0."""
        return Place(f"{self.text}[{index}]")


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong with a file; `place` is empty where the whole file is meant."""

    place: str
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}" if self.place else self.message


class FaultyFileError(UserError):
    """A file that cannot be taken as it is; `faults` names everything to mend."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


@dataclass(slots=True)
class FaultList:
    """Collects faults while a file is read."""

    found: list[Fault] = field(default_factory=list)
    dropped: int = 0

    def add(self, place: Place, message: str) -> None:
        """Keep one fault, or only count it where there are far too many already."""
        if len(self.found) < MOST_FAULTS:
            self.found.append(Fault(place.text, message))
        else:
            self.dropped += 1

    def raise_if_any(self) -> None:
        """Refuse the file where a fault was found."""
        if not self.found:
            return
        more = [Fault("", _("and {dropped} more faults", dropped=self.dropped))] if self.dropped else []
        raise FaultyFileError((*self.found, *more))


def shown(value: object) -> str:
    """A value as a message may quote it: short, on one line, in plain ASCII."""
    try:
        text = json.dumps(value, default=str)
    except (ValueError, RecursionError):
        text = f"something of type {type(value).__name__}"
    return text if len(text) <= 60 else f"{text[:57]}..."
