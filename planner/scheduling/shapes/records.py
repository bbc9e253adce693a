"""The shape of an object with fields of its own."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from planner.scheduling.faults import FaultList, Place
from planner.scheduling.shapes.containers import doubled_keys_note
from planner.scheduling.shapes.kinds import UNREAD, JsonSchema, Shape, Unread, kind_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A field of a record: its shape, what it means, and what stands in for it where it may be left out."""

    shape: Shape[Any]
    about: str = ""
    required: bool = True
    default: object = None

    def schema(self) -> JsonSchema:
        """The shape's schema with the field's meaning."""
        return {**self.shape.schema(), **({"description": self.about} if self.about else {})}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """An object as read: the fields that had no fault, and where the object stands."""

    place: Place
    values: Mapping[str, Any]

    def has(self, *names: str) -> bool:
        """Whether all of these fields were read without a fault."""
        return all(name in self.values for name in names)

    def get(self, name: str, default: Any = None) -> Any:
        """A field's value, or the default where it had a fault."""
        return self.values.get(name, default)

    def __getitem__(self, name: str) -> Any:
        return self.values[name]

    def at(self, name: str) -> Place:
        """The place of one of its fields."""
        return self.place.field(name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """An object with exactly these fields, or, where `others` is given, more of that shape."""

    title: str
    fields: Mapping[str, Field] = field(default_factory=dict)
    others: Shape[Any] | None = None

    def read(self, value: object, place: Place, faults: FaultList) -> Row | Unread:
        """The fields that could be read, with defaults for those left out."""
        if not isinstance(value, dict):
            faults.add(place, f"must be an object, not {kind_of(value)}")
            return UNREAD
        doubled_keys_note(value, place, faults)
        read = {name: self._field(name, value, place, faults) for name in self.fields}
        read.update(self._others(value, place, faults))
        return Row(place=place, values={name: item for name, item in read.items() if item is not UNREAD})

    def _field(self, name: str, value: dict[str, object], place: Place, faults: FaultList) -> object:
        wanted = self.fields[name]
        if name in value:
            return wanted.shape.read(value[name], place.field(name), faults)
        if wanted.required:
            faults.add(place.field(name), "is missing")
            return UNREAD
        return wanted.default

    def _others(self, value: dict[str, object], place: Place, faults: FaultList) -> dict[str, object]:
        unknown = [name for name in value if name not in self.fields]
        if self.others is not None:
            return {name: self.others.read(value[name], place.field(name), faults) for name in unknown}
        for name in unknown:
            near = get_close_matches(name[:60], self.fields, n=1)
            hint = f", did you mean {near[0]}?" if near else ""
            faults.add(place.field(name), f"is not a field of {self.title}{hint}")
        return {}

    def schema(self) -> JsonSchema:
        """A closed object."""
        return {
            "type": "object",
            "title": self.title,
            "properties": {name: wanted.schema() for name, wanted in self.fields.items()},
            "required": [name for name, wanted in self.fields.items() if wanted.required],
            "additionalProperties": False if self.others is None else self.others.schema(),
        }
