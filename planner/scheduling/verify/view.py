"""The plan laid beside its problem, once, for all rules to look at."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from planner.domain.bay_time import round_down, round_up
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet, Position
from planner.domain.work import Job
from planner.scheduling.clock import BayClock, bay_clock
from planner.scheduling.verify.placed import PlacedJob, PlacedStage
from planner.scheduling.verify.roster import Roster, roster_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """A schedule with its stages matched to what the problem asks of them.

    `placed` holds the known jobs whose stages are those asked for; the `stages` rule names the others.
    """

    problem: BayProblem
    schedule: Schedule
    jobs: Mapping[str, Job]
    locked: Mapping[tuple[str, str], PlannedStage]
    placed: Mapping[str, PlacedJob]
    rosters: Mapping[str, Roster]
    heater_sets: Mapping[str, HeaterSet]
    positions: Mapping[str, Position]
    clock: BayClock

    @classmethod
    def of(cls, problem: BayProblem, schedule: Schedule) -> "PlanView":
        """Lay a schedule beside its problem."""
        jobs = {job.id: job for job in problem.jobs}
        locked = {(job.id, stage.name): stage for job in problem.locked for stage in job.stages}
        grid = problem.grid_minutes
        return cls(
            problem=problem,
            schedule=schedule,
            jobs=jobs,
            locked=locked,
            placed=_placed(schedule, jobs, locked),
            rosters={one.id: roster_of(one, grid) for one in problem.technicians},
            heater_sets={one.id: one for one in problem.heater_sets},
            positions={one.id: one for one in problem.positions},
            clock=bay_clock(problem),
        )

    def stages(self) -> Iterator[PlacedStage]:
        """Every placed stage of every placed job."""
        for job in self.placed.values():
            yield from job.stages

    def up(self, minutes: int) -> int:
        """Up to the grid [min]."""
        return round_up(minutes, self.problem.grid_minutes)

    def down(self, minutes: int) -> int:
        """Down to the grid [min]."""
        return round_down(minutes, self.problem.grid_minutes)

    def when(self, minutes: int) -> datetime:
        """A moment on the bay's own clock."""
        return self.clock(minutes)


def _placed(
    schedule: Schedule, jobs: Mapping[str, Job], locked: Mapping[tuple[str, str], PlannedStage]
) -> dict[str, PlacedJob]:
    placed: dict[str, PlacedJob] = {}
    for planned in schedule.jobs:
        job = jobs.get(planned.id)
        if job is not None and planned.id not in placed and _names(job) == _planned_names(planned):
            placed[planned.id] = PlacedJob.of(job, planned, locked)
    return placed


def _names(job: Job) -> list[str]:
    return [stage.name for stage in job.stages]


def _planned_names(planned: PlannedJob) -> list[str]:
    return [stage.name for stage in planned.stages]
