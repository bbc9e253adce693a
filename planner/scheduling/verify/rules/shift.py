"""Each of the crew is on one shift throughout."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def shift_check(view: PlanView) -> Iterator[Breach]:
    """Unlocked hands-on stages with somebody off shift."""
    for placed in view.stages():
        if placed.locked or not placed.hands_on:
            continue
        for name in placed.planned.technicians:
            roster = view.rosters.get(name)
            if roster is not None and roster.duty_over(placed.span) is None:
                yield placed.breach("shift", _("{name} is not on one shift throughout", name=name), name)
