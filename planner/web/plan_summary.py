"""A plan in plain words: what is in time, what is late and by how much, what is left out."""

from dataclasses import dataclass

from planner.domain.plan import Schedule, UnplannedJob
from planner.domain.problem import BayProblem


@dataclass(frozen=True, slots=True, kw_only=True)
class LateJob:
    """A planned job that ends after it is needed [min]."""

    job: str
    ends: int
    needed_by: int

    @property
    def minutes_late(self) -> int:
        """By how much [min]."""
        return self.ends - self.needed_by


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSummary:
    """The score of a plan as people speak of it."""

    in_time: int
    late: tuple[LateJob, ...]
    left_out: tuple[UnplannedJob, ...]

    @property
    def planned(self) -> int:
        """How many tyres are planned."""
        return self.in_time + len(self.late)

    @property
    def total(self) -> int:
        """How many tyres there are to plan."""
        return self.planned + len(self.left_out)

    @property
    def minutes_late(self) -> int:
        """Of all late tyres together [min]."""
        return sum(job.minutes_late for job in self.late)


def plan_summary(problem: BayProblem, schedule: Schedule, unplanned: tuple[UnplannedJob, ...]) -> PlanSummary:
    """Count the plan's tyres; the latest one first."""
    needed = {job.id: job.needed_by for job in problem.jobs}
    late = [
        LateJob(job=planned.id, ends=planned.end, needed_by=needed[planned.id])
        for planned in schedule.jobs
        if planned.end > needed[planned.id]
    ]
    return PlanSummary(
        in_time=len(schedule.jobs) - len(late),
        late=tuple(sorted(late, key=lambda job: -job.minutes_late)),
        left_out=unplanned,
    )
