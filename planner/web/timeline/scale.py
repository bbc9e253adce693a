"""From bay time to pixels."""

from dataclasses import dataclass
from enum import StrEnum

from planner.domain.bay_time import Span


class Zoom(StrEnum):
    """How much of the plan fits on a tablet's screen."""

    SHIFT = "shift"
    DAY = "day"
    WEEK = "week"

    @property
    def pixels_per_hour(self) -> int:
        """A shift, a day or a week on about 900 pixels [px/h]."""
        return {"shift": 84, "day": 38, "week": 9}[self.value]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A stretch of bay time and how wide an hour of it is drawn."""

    span: Span
    zoom: Zoom

    @property
    def width(self) -> float:
        """Of the whole stretch [px]."""
        return self.length(self.span)

    def x(self, minute: int) -> float:
        """Where a minute lies [px]."""
        return round((minute - self.span.start) * self.zoom.pixels_per_hour / 60, 1)

    def length(self, span: Span) -> float:
        """How wide a span is drawn [px]."""
        return round(span.minutes * self.zoom.pixels_per_hour / 60, 1)

    def clip(self, span: Span) -> Span | None:
        """The part of the span that is on the board, if any."""
        if not self.span.meets(span):
            return None
        return Span(max(span.start, self.span.start), min(span.end, self.span.end))
