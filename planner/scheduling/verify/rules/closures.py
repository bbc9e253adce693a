"""No closure of the heater set meets a block, none of the position meets a stay."""

from collections.abc import Iterator

from planner.domain.bay_time import Span
from planner.domain.breach import Breach
from planner.domain.sentences import _
from planner.scheduling.verify.holdings import position_of, set_of
from planner.scheduling.verify.placed import PlacedJob, PlacedStages
from planner.scheduling.verify.view import PlanView


def closures_check(view: PlanView) -> Iterator[Breach]:
    """Blocks and stays that meet a closure, unless all of their stages are locked."""
    for job in view.placed.values():
        for held, name, closed in _held(view, job):
            for closure in closed:
                span = closure.outward(view.problem.grid_minutes)
                if not held.locked and held.span.meets(span):
                    message = _(
                        "{name} is closed from {start:minute} to {end:minute}",
                        name=name,
                        start=view.when(span.start),
                        end=view.when(span.end),
                    )
                    yield held.stages[0].breach("closures", message)


def _held(view: PlanView, job: PlacedJob) -> Iterator[tuple[PlacedStages, str, tuple[Span, ...]]]:
    block, heater_set = job.block(), set_of(view, job)
    if block is not None and heater_set is not None:
        yield block, heater_set.id, heater_set.closed
    for stay in job.stays():
        position = position_of(view, job, stay)
        if position is not None:
            yield stay, position.id, position.closed
