"""What a draft moves against the plan that holds, in elapsed time of the draft's own horizon."""

from dataclasses import dataclass

from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.selectors.plans import PlanContent


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One job that is new, gone, or ready at another time than promised [min]."""

    job: str
    ready_before: int | None
    ready_now: int | None
    elsewhere: bool = False

    @property
    def minutes_later(self) -> int | None:
        """How much later it is ready; negative where sooner; None where there is nothing to compare."""
        if self.ready_before is None or self.ready_now is None:
            return None
        return self.ready_now - self.ready_before


def on_horizon_of(problem: BayProblem, other: PlanContent) -> Schedule:
    """The other plan's schedule in minutes of this problem's horizon, without jobs unknown here."""
    known = {job.id for job in problem.jobs}
    offset = int((other.problem.origin - problem.origin).total_seconds()) // 60
    jobs = (job for job in other.plan.schedule.jobs if job.id in known)
    return Schedule(jobs=tuple(_shifted(job, offset) for job in jobs), watch=())


def _shifted(job: PlannedJob, minutes: int) -> PlannedJob:
    stages = (
        PlannedStage(
            name=stage.name, start=stage.start + minutes, end=stage.end + minutes,
            technicians=stage.technicians, position=stage.position, heater_set=stage.heater_set,
        )
        for stage in job.stages
    )  # fmt: skip
    return PlannedJob(id=job.id, stages=tuple(stages))


def changes(before: Schedule, now: Schedule) -> tuple[Change, ...]:
    """Every job that differs, the one that slips most first."""
    old, new = ({job.id: job for job in schedule.jobs} for schedule in (before, now))
    found = [
        Change(
            job=job,
            ready_before=old[job].end if job in old else None,
            ready_now=new[job].end if job in new else None,
            elsewhere=job in old and job in new and old[job].end == new[job].end,
        )
        for job in sorted(old.keys() | new.keys())
        if old.get(job) != new.get(job)
    ]
    return tuple(sorted(found, key=lambda change: -(change.minutes_later or 0)))
