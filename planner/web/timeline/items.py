"""What stands in the lanes: a heat block, a stay or a stage, each as one thing that can be picked up."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule, Watch
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.web.timeline.appearance import Look, stage_looks


class LaneKind(StrEnum):
    """What a lane stands for."""

    HEATER_SETS = "sets"
    POSITIONS = "positions"
    TECHNICIANS = "technicians"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Something of one job (or, for a watch, of several) in one lane, in one piece or several."""

    lane: str
    jobs: tuple[str, ...]
    stages: tuple[PlannedStage, ...]
    looks: tuple[Look, ...]
    span: Span

    @property
    def is_watch(self) -> bool:
        """Whether it is attendance and not a stage."""
        return not self.stages


def lane_items(problem: BayProblem, schedule: Schedule, kind: LaneKind) -> Iterator[Item]:
    """Everything that the lanes of this kind show."""
    jobs = {job.id: job for job in problem.jobs}
    for planned in schedule.jobs:
        yield from _PICK[kind](jobs[planned.id], planned)
    if kind is LaneKind.TECHNICIANS:
        yield from (_watch_item(watch) for watch in schedule.watch)


def _item(job: Job, lane: str, stages: tuple[PlannedStage, ...]) -> Item:
    looks = stage_looks(job)
    return Item(
        lane=lane,
        jobs=(job.id,),
        stages=stages,
        looks=tuple(looks[stage.name] for stage in stages),
        span=Span(stages[0].start, stages[-1].end),
    )


def _by_heater_set(job: Job, planned: PlannedJob) -> Iterator[Item]:
    for heater_set, stages in groupby(planned.stages, key=lambda stage: stage.heater_set):
        if heater_set is not None:
            yield _item(job, heater_set, tuple(stages))


def _by_position(job: Job, planned: PlannedJob) -> Iterator[Item]:
    for position, stages in groupby(planned.stages, key=lambda stage: stage.position):
        if position is not None:
            yield _item(job, position, tuple(stages))


def _by_technician(job: Job, planned: PlannedJob) -> Iterator[Item]:
    for stage in planned.stages:
        for technician in stage.technicians:
            yield _item(job, technician, (stage,))


def _watch_item(watch: Watch) -> Item:
    return Item(lane=watch.technician, jobs=watch.jobs, stages=(), looks=(Look.WATCH,), span=watch.span)


_PICK = {
    LaneKind.HEATER_SETS: _by_heater_set,
    LaneKind.POSITIONS: _by_position,
    LaneKind.TECHNICIANS: _by_technician,
}
