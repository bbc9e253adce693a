"""Reading what a plan moves against the published one, and why: reckoned once for each pair."""

from collections.abc import Iterator
from dataclasses import replace

from django.core.cache import cache

from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.models import Plan, User
from planner.selectors.plans import PlanContent, plan_content_get, plan_published_get
from planner.solver.replan import MovedJob, moved_jobs

__all__ = ["MovedJob", "plan_moves_get", "promised_still"]


def plan_moves_get(*, user: User, plan: Plan) -> tuple[MovedJob, ...]:
    """Every job that stands otherwise than published, with its cause; none where no other is published."""
    published = plan_published_get(user=user, site=plan.site)
    if published is None or published.pk == plan.pk:
        return ()
    key = f"plan_moves:{plan.pk}:{plan.problem_sha256}:{plan.version}:{published.pk}"
    found: tuple[MovedJob, ...] | None = cache.get(key)
    if found is None:
        before, content = plan_content_get(plan=published), plan_content_get(plan=plan)
        promised = promised_still(content.problem, before)
        found = moved_jobs(before.problem, promised, content.problem, content.plan.schedule)
        cache.set(key, found, timeout=None)
    return found


def promised_still(problem: BayProblem, published: PlanContent) -> Schedule:
    """The published schedule on this problem's clock: of each job the stages that are still in it.

    What was over before the horizon stands as it is on record: nobody can move it any more.
    """
    later = int((published.problem.origin - problem.origin).total_seconds()) // 60
    return Schedule(jobs=tuple(_still(problem, published, later)), watch=())


def _still(problem: BayProblem, published: PlanContent, later: int) -> Iterator[PlannedJob]:
    names = {job.id: [stage.name for stage in job.stages] for job in problem.jobs}
    over = {(lock.id, stage.name): stage for lock in problem.locked for stage in lock.stages if stage.end < 0}
    for job in published.plan.schedule.jobs:
        stages = tuple(
            over.get((job.id, stage.name)) or replace(stage, start=stage.start + later, end=stage.end + later)
            for stage in job.stages
            if stage.name in names.get(job.id, ())
        )
        if stages and [stage.name for stage in stages] == names[job.id]:
            yield PlannedJob(id=job.id, stages=stages)
