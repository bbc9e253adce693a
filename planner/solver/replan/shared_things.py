"""What two planned jobs would both use at the same time."""

from collections.abc import Iterable, Iterator

from planner.domain.plan import PlannedJob, PlannedStage

MOST_NAMED = 2


def what_both_use(one: PlannedJob, others: Iterable[PlannedJob]) -> list[str]:
    """The sets, positions and technicians of `one` that `others` use at those times, where they are few."""
    stages = [stage for other in others for stage in other.stages]
    shared = dict.fromkeys(
        name
        for stage in one.stages
        for other in stages
        if stage.start < other.end and other.start < stage.end
        for name in _names(stage)
        if name in set(_names(other))
    )
    return list(shared) if len(shared) <= MOST_NAMED else []


def _names(stage: PlannedStage) -> Iterator[str]:
    if stage.heater_set:
        yield stage.heater_set
    if stage.position:
        yield stage.position
    yield from stage.technicians
