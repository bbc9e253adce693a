"""Validity ranges: a value outside its range is refused by name, never clipped."""

import math
from dataclasses import dataclass

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True)
class Limits:
    """The range in which a quantity is believed, ends included, and its unit for the message."""

    low: float
    high: float
    unit: str

    def check(self, name: str, value: float) -> None:
        """Raise InvalidValueError where `value` is not a number inside the range."""
        if not (math.isfinite(value) and self.low <= value <= self.high):
            told = {"name": name, "low": self.low, "high": self.high, "unit": self.unit, "value": value}
            raise InvalidValueError(
                _("{name:phrase} must be from {low:g} to {high:g} {unit}, not {value:g}", **told)
                if self.unit
                else _("{name:phrase} must be from {low:g} to {high:g}, not {value:g}", **told)
            )
