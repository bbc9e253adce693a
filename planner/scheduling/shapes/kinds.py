"""What every shape can do, and the names of JSON's types for messages."""

import math
from enum import Enum
from typing import Any, Protocol, TypeVar

from planner.scheduling.faults import FaultList, Place

JsonSchema = dict[str, Any]


class Unread(Enum):
    """The one value that stands for "a fault was noted here"; None is a value of its own in JSON."""

    UNREAD = "unread"


UNREAD = Unread.UNREAD

Value_co = TypeVar("Value_co", covariant=True)


class Shape(Protocol[Value_co]):
    """A kind of JSON value: reads one, and describes itself as JSON Schema (draft 2020-12)."""

    def read(self, value: object, place: Place, faults: FaultList) -> Value_co | Unread:
        """The value as the program wants it, or UNREAD with at least one fault noted at its place."""
        ...

    def schema(self) -> JsonSchema:
        """The JSON Schema of the values that can be read."""
        ...


def kind_of(value: object) -> str:
    """A JSON value's type in plain words."""
    if value is None:
        return "null"
    if isinstance(value, float) and not math.isfinite(value):
        return "NaN" if math.isnan(value) else "a number beyond all measure"
    names = {bool: "true or false", int: "a number", float: "a number", str: "text", list: "a list"}
    return names.get(type(value), "an object")
