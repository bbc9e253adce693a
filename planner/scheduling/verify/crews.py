"""The breaks that a stage's crew takes inside it."""

from planner.scheduling.verify.placed import PlacedStage
from planner.scheduling.verify.stretches import Stretches, merged, shared
from planner.scheduling.verify.view import PlanView


def pauses_in(view: PlanView, placed: PlacedStage) -> Stretches:
    """The union of the breaks, inside a hands-on stage, of those of its crew who are on one shift over it."""
    if not placed.hands_on:
        return ()
    rosters = [view.rosters.get(name) for name in placed.planned.technicians]
    duties = [roster.duty_over(placed.span) for roster in rosters if roster is not None]
    breaks = merged(pause for duty in duties if duty is not None for pause in duty.breaks)
    return shared(breaks, (placed.span,))
