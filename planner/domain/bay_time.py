"""Bay time: whole minutes after the horizon's start, and the half-open spans between them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _


def round_up(minutes: int, grid_minutes: int) -> int:
    """The first multiple of the grid at or after `minutes` [min]."""
    return -(-minutes // grid_minutes) * grid_minutes


def round_down(minutes: int, grid_minutes: int) -> int:
    """The last multiple of the grid at or before `minutes` [min]."""
    return minutes // grid_minutes * grid_minutes


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A half-open stretch of bay time: `start` is in it, `end` is not [min after the horizon's start]."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if self.end < self.start:
            raise InvalidValueError(
                _("a span must not end before it starts ({start} to {end})", start=self.start, end=self.end)
            )

    @property
    def minutes(self) -> int:
        """Its length [min]."""
        return self.end - self.start

    def meets(self, other: "Span") -> bool:
        """Whether the two share at least one minute."""
        return self.start < other.end and other.start < self.end

    def holds(self, other: "Span") -> bool:
        """Whether `other` lies wholly inside."""
        return self.start <= other.start and other.end <= self.end

    def inward(self, grid_minutes: int) -> "Span | None":
        """The part on the grid, as a shift shrinks; None where nothing is left."""
        start, end = round_up(self.start, grid_minutes), round_down(self.end, grid_minutes)
        return Span(start, end) if start < end else None

    def outward(self, grid_minutes: int) -> "Span":
        """The least span on the grid that covers it, as a break or a closure grows."""
        return Span(round_down(self.start, grid_minutes), round_up(self.end, grid_minutes))


def overlapping(spans: Iterable[Span]) -> Iterator[tuple[Span, Span]]:
    """Neighbouring pairs, in order of start, that share a minute; none means the spans are disjoint."""
    return ((one, two) for one, two in pairwise(sorted(spans)) if one.meets(two))
