"""What the bay's people call the ids of a plan."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.domain.problem import BayProblem
from planner.selectors.plan_promises import order_code
from planner.selectors.resources import heater_set_list, position_list, technician_list
from planner.selectors.work_orders import tyre_by_order_get
from planner.web.here import Here


@dataclass(frozen=True, slots=True, kw_only=True)
class JobName:
    """A job as its order, its tyre's serial and size."""

    job: str
    serial: str = ""
    size: str = ""

    def __str__(self) -> str:
        return " · ".join(part for part in (self.job, self.size) if part)

    @property
    def number(self) -> int | None:
        """The number of its work order, for its address; None where it has none."""
        digits = order_code(self.job).removeprefix("WO-")
        return int(digits) if digits.isdecimal() else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """Jobs, and the people, places and sets of the bay, by their ids."""

    jobs: Mapping[str, JobName]
    resources: Mapping[str, str]

    def job(self, job: str) -> JobName:
        """The name of a job, also of one that is no longer on file."""
        return self.jobs.get(job, JobName(job=job))

    def resource(self, code: str) -> str:
        """The name of a technician, a position or a set."""
        return self.resources.get(code, code)

    @property
    def job_labels(self) -> dict[str, str]:
        """Every job in words."""
        return {job: str(name) for job, name in self.jobs.items()}


def names_get(here: Here, problem: BayProblem) -> Names:
    """The names of all that the problem speaks of."""
    jobs = {job.id: JobName(job=job.id) for job in problem.jobs}
    numbers = {name.number for name in jobs.values() if name.number is not None}
    tyres = tyre_by_order_get(user=here.user, site=here.site, numbers=numbers)
    for name in jobs.values():
        if name.number in tyres:
            tyre = tyres[name.number]
            jobs[name.job] = replace(name, serial=tyre.serial, size=tyre.size)
    rows = (
        *technician_list(user=here.user, site=here.site),
        *position_list(user=here.user, site=here.site),
        *heater_set_list(user=here.user, site=here.site),
    )
    return Names(jobs=jobs, resources={row.code: row.name for row in rows})
