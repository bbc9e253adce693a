"""Validity ranges: a value outside its range is refused by name, never clipped."""

import math
from dataclasses import dataclass

from planner.domain.errors import InvalidValueError


@dataclass(frozen=True, slots=True)
class Limits:
    """The range in which a quantity is believed, ends included, and its unit for the message."""

    low: float
    high: float
    unit: str

    def check(self, name: str, value: float) -> None:
        """Raise InvalidValueError where `value` is not a number inside the range."""
        if not (math.isfinite(value) and self.low <= value <= self.high):
            bounds = f"from {self.low:g} to {self.high:g} {self.unit}".rstrip()
            raise InvalidValueError(f"{name} must be {bounds}, not {value:g}")
