"""When technicians can start hands-on work, from their shifts and breaks alone."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby, product
from operator import itemgetter

from planner.domain.resources import Technician
from planner.scheduling.dispatch.grid import Grid
from planner.scheduling.dispatch.timeline import slots_between, starts_of_runs, stretches

Elapsed = tuple[tuple[int, int], ...]
"""Pairs of (slots that a work lasts with its pauses, the slots from which it lasts so long)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GridShift:
    """A shift on the grid: the slots it covers and those of its breaks."""

    present: int
    breaks: int


@dataclass(slots=True, kw_only=True)
class WorkCalendar:
    """One technician's shifts on the grid, with the start slots of each length asked so far."""

    id: str
    skills: frozenset[str]
    shifts: tuple[GridShift, ...]
    present: int
    attending: int
    _starts: dict[int, int] = field(default_factory=dict)

    def starts(self, length: int) -> int:
        """The slots from which a work of `length` slots meets no break and stays in one shift."""
        if length not in self._starts:
            runs = (starts_of_runs(shift.present & ~shift.breaks, length) for shift in self.shifts)
            self._starts[length] = _union(runs)
        return self._starts[length]


def work_calendar(technician: Technician, grid: Grid, watch_skill: str, through_breaks: bool) -> WorkCalendar:
    """The calendar of `technician`; `attending` is when they may watch cures, by shift, break and skill."""
    shifts = tuple(_grid_shifts(technician, grid))
    watching = (shift.present if through_breaks else shift.present & ~shift.breaks for shift in shifts)
    return WorkCalendar(
        id=technician.id,
        skills=technician.skills,
        shifts=shifts,
        present=_union(shift.present for shift in shifts),
        attending=_union(watching) if watch_skill in technician.skills else 0,
    )


def paused_starts(crew: tuple[WorkCalendar, ...], work: int) -> Elapsed:
    """Where `crew` can start `work` slots that pause in each one's breaks, by the slots it then lasts."""
    by_length: dict[int, int] = {}
    for shifts in product(*(calendar.shifts for calendar in crew)):
        present, pauses = -1, 0
        for shift in shifts:
            present &= shift.present
            pauses |= shift.breaks
        for length, starts in _paused_in(present & ~pauses, work):
            by_length[length] = by_length.get(length, 0) | starts
    return tuple(sorted(by_length.items()))


def _paused_in(working: int, work: int) -> Iterator[tuple[int, int]]:
    """Lengths and starts of `work` slots done in `working`, the slots of one shift without its pauses."""
    slots = [slot for start, end in stretches(working) for slot in range(start, end)]
    lengths = ((slots[at + work - 1] + 1 - slots[at], slots[at]) for at in range(len(slots) - work + 1))
    for length, alike in groupby(lengths, key=itemgetter(0)):
        # Starts of one length may lie on both sides of a pause.
        starts = [start for _, start in alike]
        yield length, slots_between(starts[0], starts[-1] + 1) & working


def _grid_shifts(technician: Technician, grid: Grid) -> Iterator[GridShift]:
    for shift in technician.shifts:
        present = grid.inside(shift.span)
        if present:
            breaks = _union(grid.around(pause) for pause in shift.breaks)
            yield GridShift(present=present, breaks=breaks & present)


def _union(timelines: Iterable[int]) -> int:
    together = 0
    for timeline in timelines:
        together |= timeline
    return together
