"""Nothing unlocked before the horizon's start, nothing past its end."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.scheduling.verify.view import PlanView


def horizon_check(view: PlanView) -> Iterator[Breach]:
    """Stages outside the horizon; a locked one may lie before it."""
    end = view.problem.horizon_end
    for placed in view.stages():
        if placed.span.start < 0 and not placed.locked:
            yield placed.breach("horizon", f"starts before the horizon, at {view.when(placed.span.start)}")
        if placed.span.end > end:
            message = f"ends at {view.when(placed.span.end)}, past the horizon's end at {view.when(end)}"
            yield placed.breach("horizon", message)
