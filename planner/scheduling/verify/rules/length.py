"""A stage lasts its minutes rounded up to the grid, and the breaks of its crew where it is pausable."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
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
            breaks = _(" and {paused} min of breaks", paused=paused) if paused else ""
            message = _(
                "lasts {minutes} min, its work is {work} min{breaks}",
                minutes=placed.span.minutes,
                work=work,
                breaks=breaks,
            )
            yield placed.breach("length", message)
