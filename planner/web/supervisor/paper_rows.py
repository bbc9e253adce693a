"""The whole plan as a table for paper, which holds no timeline as long as its days."""

from dataclasses import dataclass
from datetime import datetime

from planner.domain.plan import PlannedJob
from planner.web.here import Here
from planner.web.supervisor.naming import JobName
from planner.web.supervisor.plan_view import PlanView
from planner.web.timeline.ruler import local_time


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperRow:
    """One tyre: when its work begins, its heat block with set and position, and when it is ready."""

    name: JobName
    begins: datetime
    hot_from: datetime | None
    hot_to: datetime | None
    where: str
    ready: datetime
    needed: datetime

    @property
    def is_late(self) -> bool:
        """Whether it is ready after it is needed."""
        return self.ready > self.needed


def paper_rows(here: Here, view: PlanView) -> list[PaperRow]:
    """Every planned tyre, the one whose work begins first on top."""
    needed = {job.id: job.needed_by for job in view.content.problem.jobs}
    jobs = sorted(view.content.plan.schedule.jobs, key=lambda job: job.stages[0].start)
    return [_row(here, view, job, needed[job.id]) for job in jobs]


def _row(here: Here, view: PlanView, job: PlannedJob, needed: int) -> PaperRow:
    origin = view.content.problem.origin
    hot = [stage for stage in job.stages if stage.heater_set]
    places = {name: None for stage in hot for name in (stage.heater_set, stage.position) if name}
    return PaperRow(
        name=view.names.job(job.id),
        begins=local_time(origin, job.stages[0].start, here.zone),
        hot_from=local_time(origin, hot[0].start, here.zone) if hot else None,
        hot_to=local_time(origin, hot[-1].end, here.zone) if hot else None,
        where=", ".join(view.names.resource(place) for place in places),
        ready=local_time(origin, job.end, here.zone),
        needed=local_time(origin, needed, here.zone),
    )
