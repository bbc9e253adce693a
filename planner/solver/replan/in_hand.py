"""Work that has begun when a bay is planned again."""

from dataclasses import replace

from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem


def work_in_hand(problem: BayProblem, published: Schedule, now: int) -> BayProblem:
    """The problem with all stages locked that the published plan starts before `now`; nothing new before it.

    A heat block that has begun is locked to its end: it is not interrupted.
    """
    jobs = {job.id: job for job in problem.jobs}
    kept = {job.id: job for job in problem.locked}
    for job in published.jobs:
        begun = [index for index, stage in enumerate(job.stages) if stage.start < now]
        if begun:
            block = jobs[job.id].block
            last = max(begun[-1], block[-1]) if block and block[0] <= begun[-1] else begun[-1]
            kept[job.id] = PlannedJob(id=job.id, stages=job.stages[: last + 1])
    released = (replace(job, released_at=max(job.released_at, now)) for job in problem.jobs)
    return replace(problem, jobs=tuple(released), locked=tuple(kept.values()))
