"""Nothing unlocked before the horizon's start, nothing past its end."""

from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.view import PlanView


def horizon_check(view: PlanView) -> Iterator[Breach]:
    """Stages outside the horizon; a locked one may lie before it."""
    end = view.problem.horizon_end
    for placed in view.stages():
        if placed.span.start < 0 and not placed.locked:
            yield placed.breach(
                "horizon", _("starts before the horizon, at {when:minute}", when=view.when(placed.span.start))
            )
        if placed.span.end > end:
            message = _(
                "ends at {end:minute}, past the horizon's end at {limit:minute}",
                end=view.when(placed.span.end),
                limit=view.when(end),
            )
            yield placed.breach("horizon", message)
