"""Shapes of numbers: whole, real, and durations in minutes."""

import math
from dataclasses import dataclass

from planner.scheduling.faults import FaultList, Place, shown
from planner.scheduling.shapes.kinds import UNREAD, JsonSchema, Unread, kind_of

MOST_MINUTES = 527_040
"""Longest duration that is taken: 366 days [min]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A finite number from `least` to `most`; `above` asks for more than a value instead."""

    most: float
    least: float | None = None
    above: float | None = None

    def read(self, value: object, place: Place, faults: FaultList) -> float | Unread:
        """The number as a float."""
        message = self._objection(value)
        if message is None and isinstance(value, int | float):
            return float(value)
        faults.add(place, message or "must be a number")
        return UNREAD

    def _objection(self, value: object) -> str | None:
        if isinstance(value, bool) or not isinstance(value, int | float) or math.isnan(value):
            return f"must be a number, not {kind_of(value)}"
        if self.above is not None and not value > self.above:
            return f"must be more than {self.above:g}"
        if self.least is not None and value < self.least:
            return f"must be at least {self.least:g}, not {shown(value)}"
        return f"must be at most {self.most:.15g}" if value > self.most else None

    def schema(self) -> JsonSchema:
        """A number with its bounds."""
        bounds = {"minimum": self.least, "exclusiveMinimum": self.above, "maximum": self.most}
        return {"type": "number", **{name: bound for name, bound in bounds.items() if bound is not None}}


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A whole number from `least` to `most`; 10.0 is one."""

    least: int
    most: int

    def read(self, value: object, place: Place, faults: FaultList) -> int | Unread:
        """The number as an int."""
        number = Number(least=self.least, most=self.most).read(value, place, faults)
        if isinstance(number, Unread):
            return UNREAD
        if not number.is_integer():
            faults.add(place, f"must be a whole number, not {shown(value)}")
            return UNREAD
        return int(number)

    def schema(self) -> JsonSchema:
        """An integer with its bounds."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True, slots=True, kw_only=True)
class Minutes:
    """A duration in minutes, decimals allowed, brought to whole minutes on the safe side."""

    above: float | None = None
    down: bool = False

    def read(self, value: object, place: Place, faults: FaultList) -> int | Unread:
        """Whole minutes: rounded up, or `down` for a greatest wait."""
        number = self._number().read(value, place, faults)
        if isinstance(number, Unread):
            return UNREAD
        return math.floor(number) if self.down else math.ceil(number)

    def _number(self) -> Number:
        least = 0 if self.above is None else None
        return Number(above=self.above, least=least, most=MOST_MINUTES)

    def schema(self) -> JsonSchema:
        """A number of minutes."""
        return self._number().schema()
