"""When a crew that began a stage will be done with it, on its own roster."""

from collections.abc import Sequence

from planner.domain.bay_time import Span
from planner.domain.resources import Shift, Technician


def crew_end(
    start: int, minutes: int, crew: Sequence[Technician], grid_minutes: int, *, pausable: bool
) -> int | None:
    """The end of `minutes` of work begun at `start` [min], breaks added where the work pauses for them.

    None where somebody is not on one shift throughout, or has a break that the work may not pause for.
    """
    shifts = [_shift_at(technician, start, grid_minutes) for technician in crew]
    if not all(shifts):
        return None
    breaks = [pause.outward(grid_minutes) for shift in shifts if shift for pause in shift.breaks]
    end = start + minutes
    while (needed := start + minutes + _paused(Span(start, end), breaks, grid_minutes)) > end:
        end = needed
    if end > start + minutes and not pausable:
        return None
    return end if all(shift and end <= shift.span.end for shift in shifts) else None


def _shift_at(technician: Technician, start: int, grid_minutes: int) -> Shift | None:
    for shift in technician.shifts:
        inner = shift.span.inward(grid_minutes)
        if inner is not None and inner.start <= start < inner.end:
            return shift
    return None


def _paused(span: Span, breaks: Sequence[Span], grid_minutes: int) -> int:
    """Minutes of the union of `breaks` inside `span` [min]."""
    steps = range(span.start, span.end, grid_minutes)
    return grid_minutes * sum(any(pause.start <= step < pause.end for pause in breaks) for step in steps)
