"""The shape of a figure behind a reason."""

from dataclasses import dataclass

from planner.scheduling.faults import FaultList, Place
from planner.scheduling.shapes import UNREAD, Number, Text, Unread
from planner.scheduling.shapes.kinds import JsonSchema, kind_of


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, one line of text, or null."""

    def read(self, value: object, place: Place, faults: FaultList) -> int | float | str | Unread | None:
        """The figure; a whole number stays one."""
        if value is None:
            return None
        if isinstance(value, str):
            return Text(most=1000).read(value, place, faults)
        if isinstance(value, bool) or not isinstance(value, int | float):
            faults.add(place, f"must be a number, text or null, not {kind_of(value)}")
            return UNREAD
        number = Number(least=-1e15, most=1e15).read(value, place, faults)
        return number if isinstance(number, Unread) else value

    def schema(self) -> JsonSchema:
        """Any of the three."""
        number = Number(least=-1e15, most=1e15).schema()
        return {"anyOf": [number, Text(most=1000).schema(), {"type": "null"}]}
