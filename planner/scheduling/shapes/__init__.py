"""Shapes: what a JSON value must look like. One declaration reads a file and writes its JSON Schema."""

from planner.scheduling.shapes.containers import ListOf, MapOf
from planner.scheduling.shapes.kinds import UNREAD, Shape, Unread
from planner.scheduling.shapes.moments import Moment
from planner.scheduling.shapes.numbers import Minutes, Number, Whole
from planner.scheduling.shapes.records import Field, Record, Row
from planner.scheduling.shapes.scalars import Choice, Constant, Flag, Nullable, Text

__all__ = [
    "UNREAD",
    "Choice",
    "Constant",
    "Field",
    "Flag",
    "ListOf",
    "MapOf",
    "Minutes",
    "Moment",
    "Nullable",
    "Number",
    "Record",
    "Row",
    "Shape",
    "Text",
    "Unread",
    "Whole",
]
