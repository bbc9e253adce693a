"""A stage lasts its minutes rounded up to the grid, and the breaks of its crew where it is pausable."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.scheduling.verify.crews import pauses_in
from planner.scheduling.verify.stretches import length
from planner.scheduling.verify.view import PlanView


def length_check(view: PlanView) -> Iterator[Breach]:
    """Unlocked stages that are too short or too long."""
    for placed in view.stages():
        if placed.locked:
            continue
        work, paused = view.up(placed.stage.minutes), length(pauses_in(view, placed))
        if placed.span.minutes != work + paused:
            breaks = f" and {paused} min of breaks" if paused else ""
            message = f"lasts {placed.span.minutes} min, its work is {work} min{breaks}"
            yield placed.breach("length", message)
