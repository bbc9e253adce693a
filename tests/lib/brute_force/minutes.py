"""Sets of minutes as bits of one whole number; bit 0 is a day before the horizon's start."""

from functools import cache

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Technician

BEFORE = 24 * 60


def minutes(start: int, end: int) -> int:
    """The minutes from `start` up to, not including, `end`."""
    low, high = max(start + BEFORE, 0), max(end + BEFORE, 0)
    return (1 << high) - (1 << low) if high > low else 0


@cache
def shrunk(span: Span, grid: int) -> int:
    """The minutes of the grid steps that lie wholly inside a span."""
    return sum(
        minutes(step, step + grid)
        for step in range(span.start - span.start % grid, span.end, grid)
        if step >= span.start and step + grid <= span.end
    )


@cache
def grown(spans: tuple[Span, ...], grid: int) -> int:
    """The minutes of the grid steps that spans touch."""
    touched = 0
    for span in spans:
        for step in range(span.start - span.start % grid, span.end, grid):
            touched |= minutes(step, step + grid)
    return touched


def attendable(problem: BayProblem, technician: Technician) -> int:
    """The minutes in which a technician may attend a tyre, other work aside."""
    if problem.rules.watch_skill not in technician.skills:
        return 0
    free = 0
    for shift in technician.shifts:
        present = shrunk(shift.span, problem.grid_minutes)
        away = 0 if problem.rules.watch_through_breaks else grown(shift.breaks, problem.grid_minutes)
        free |= present & ~away
    return free
