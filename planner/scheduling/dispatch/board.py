"""The board: what is taken of each technician, position, heater set, supply and watch, slot by slot.

A board is a few lists of whole numbers, so that a copy to fall back on costs next to nothing.
"""

from dataclasses import dataclass

from planner.scheduling.dispatch.bay import Bay
from planner.scheduling.dispatch.capacity import Planes, at_least, given, taken
from planner.scheduling.dispatch.lines import Lines, untouched
from planner.scheduling.dispatch.timeline import starts_of_runs

Claim = tuple[int, int, int]
"""A line of the board, the slots claimed on it and the units claimed in each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceAt:
    """Where a piece stands: its start and length in slots, and the pools and crews that serve it."""

    start: int
    length: int
    place: int | None
    crews: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A whole job on the board: its pieces, its set pool, its attendant where one has the whole watch."""

    job: int
    pieces: tuple[PieceAt, ...]
    set_pool: int | None
    attendant: int | None
    start: int
    end: int
    work: tuple[tuple[int, int], ...]
    claims: tuple[Claim, ...]


Snapshot = tuple[list[int], list[Planes], list[Placement | None]]


class Board:
    """The state of one plan while it is made. Lines are numbered: see `Lines`."""

    __slots__ = ("_free", "_runs", "bay", "busy", "left", "lines", "placements")

    def __init__(self, bay: Bay) -> None:
        self.bay = bay
        self.lines = Lines.of(bay)
        self.busy: list[int] = [0] * len(bay.crew)
        self.left: list[Planes] = untouched(bay)
        self.placements: list[Placement | None] = [None] * len(bay.jobs)
        self._free: dict[tuple[int, int], tuple[Planes, int]] = {}
        self._runs: dict[tuple[int, int, int], tuple[Planes, int]] = {}

    def place(self, placement: Placement) -> None:
        """Put a job on the board; the caller has found that it fits."""
        for technician, slots in placement.work:
            self.busy[technician] |= slots
        for line, slots, units in placement.claims:
            self.left[line] = taken(self.left[line], slots, units)
        self.placements[placement.job] = placement

    def remove(self, job: int) -> None:
        """Take a planned job off the board."""
        placement = self.placements[job]
        if placement is None:
            raise KeyError(job)
        for technician, slots in placement.work:
            self.busy[technician] &= ~slots
        for line, slots, units in placement.claims:
            self.left[line] = given(self.left[line], slots, units)
        self.placements[job] = None

    def snapshot(self) -> Snapshot:
        """The state, to come back to."""
        return self.busy[:], self.left[:], self.placements[:]

    def restore(self, snapshot: Snapshot) -> None:
        """Come back to a state."""
        busy, left, placements = snapshot
        self.busy, self.left, self.placements = busy[:], left[:], placements[:]

    def free(self, line: int, units: int = 1) -> int:
        """The slots in which at least `units` are left on `line`."""
        planes = self.left[line]
        if len(planes) == 1 and units == 1:
            return planes[0]
        known = self._free.get((line, units))
        # The same object means the same state: a board that falls back brings it back too.
        if known is not None and known[0] is planes:
            return known[1]
        slots = at_least(planes, units)
        self._free[line, units] = (planes, slots)
        return slots

    def free_from(self, line: int, units: int, length: int) -> int:
        """The slots from which at least `units` are left on `line` for `length` slots."""
        planes = self.left[line]
        known = self._runs.get((line, units, length))
        if known is not None and known[0] is planes:
            return known[1]
        starts = starts_of_runs(self.free(line, units), length)
        self._runs[line, units, length] = (planes, starts)
        return starts
