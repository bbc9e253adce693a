"""The score of a plan, recomputed from its stages."""

from collections.abc import Iterable

from planner.domain.plan import PlannedJob, Score
from planner.domain.problem import BayProblem


def score(problem: BayProblem, jobs: Iterable[PlannedJob]) -> Score:
    """How good these planned jobs are; a job of the problem that is not among them is left out.

    Lateness sums, over the jobs, priority × late minutes [priority-weighted min]. A planned job is late by
    its end less `needed_by`, at least 0; a job left out by what the horizon's end is past `needed_by`, at
    least 0, and the horizon's whole length. Flow sums the planned jobs' ends [min after the horizon's start].
    """
    ends = {job.id: job.end for job in jobs}
    lateness = sum(
        job.priority * _late_minutes(problem, job.needed_by, ends.get(job.id)) for job in problem.jobs
    )
    return Score(lateness, sum(ends[job.id] for job in problem.jobs if job.id in ends))


def _late_minutes(problem: BayProblem, needed_by: int, end: int | None) -> int:
    if end is None:
        return max(0, problem.horizon_end - needed_by) + problem.horizon_end
    return max(0, end - needed_by)
