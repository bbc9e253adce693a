"""Shapes that hold other values: lists, and maps with free keys."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from planner.scheduling.faults import FaultList, Place
from planner.scheduling.shapes.kinds import UNREAD, JsonSchema, Shape, Unread, kind_of
from planner.scheduling.strict_json import DoubledObject

Inner = TypeVar("Inner")


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOf(Generic[Inner]):
    """A list of one shape, with `least` to `most` items, none of them twice where `unique`."""

    item: Shape[Inner]
    most: int
    least: int = 0
    unique: bool = False

    def read(self, value: object, place: Place, faults: FaultList) -> list[Inner] | Unread:
        """The items that could be read, in their order."""
        if not isinstance(value, list):
            faults.add(place, f"must be a list, not {kind_of(value)}")
            return UNREAD
        if not self.least <= len(value) <= self.most:
            faults.add(place, f"must have {self.least} to {self.most} items, has {len(value)}")
            return UNREAD
        return self._items(value, place, faults)

    def _items(self, value: list[object], place: Place, faults: FaultList) -> list[Inner]:
        items: list[Inner] = []
        for index, raw in enumerate(value):
            item = self.item.read(raw, place.item(index), faults)
            if isinstance(item, Unread):
                continue
            if self.unique and item in items:
                faults.add(place.item(index), f"is listed twice: {item}")
            items.append(item)
        return items

    def schema(self) -> JsonSchema:
        """An array with its bounds."""
        bounds: JsonSchema = {"minItems": self.least, "maxItems": self.most}
        unique = {"uniqueItems": True} if self.unique else {}
        return {"type": "array", "items": self.item.schema(), **bounds, **unique}


@dataclass(frozen=True, slots=True, kw_only=True)
class MapOf(Generic[Inner]):
    """An object whose keys are free and whose values have one shape."""

    key: Shape[str]
    value: Shape[Inner]
    most: int

    def read(self, value: object, place: Place, faults: FaultList) -> dict[str, Inner] | Unread:
        """The entries that could be read."""
        if not isinstance(value, dict):
            faults.add(place, f"must be an object, not {kind_of(value)}")
            return UNREAD
        if len(value) > self.most:
            faults.add(place, f"must have at most {self.most} entries, has {len(value)}")
            return UNREAD
        doubled_keys_note(value, place, faults)
        entries: dict[str, Inner] = {}
        for name, raw in value.items():
            key = self.key.read(name, place.field(name), faults)
            entry = self.value.read(raw, place.field(name), faults)
            if not isinstance(key, Unread) and not isinstance(entry, Unread):
                entries[key] = entry
        return entries

    def schema(self) -> JsonSchema:
        """An object with free keys."""
        return {
            "type": "object",
            "propertyNames": self.key.schema(),
            "additionalProperties": self.value.schema(),
            "maxProperties": self.most,
        }


def doubled_keys_note(value: dict[str, object], place: Place, faults: FaultList) -> None:
    """Note each key that the file gave more than once."""
    if isinstance(value, DoubledObject):
        for name in value.doubled:
            faults.add(place.field(name), "is given more than once")
