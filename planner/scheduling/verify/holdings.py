"""What a placed job holds: its heater set, and a position for each stay."""

from planner.domain.resources import HeaterSet, Position
from planner.scheduling.verify.placed import PlacedJob, PlacedStages
from planner.scheduling.verify.view import PlanView


def set_of(view: PlanView, job: PlacedJob) -> HeaterSet | None:
    """The one eligible set that the whole block holds; None where there is no such set."""
    block = job.block()
    names = {stage.planned.heater_set for stage in block.stages} if block else set()
    name = names.pop() if len(names) == 1 else None
    return view.heater_sets.get(name) if name is not None and name in job.job.heater_sets else None


def position_of(view: PlanView, job: PlacedJob, stay: PlacedStages) -> Position | None:
    """The one eligible position that the whole stay holds; None where there is no such position."""
    names = {stage.planned.position for stage in stay.stages}
    name = names.pop() if len(names) == 1 else None
    eligible = job.job.positions.get(stay.stages[0].stage.place or "", ())
    return view.positions.get(name) if name is not None and name in eligible else None
