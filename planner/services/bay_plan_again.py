"""A plan made again in the middle of the day, around what was published."""

from collections.abc import Iterator
from dataclasses import replace

from planner.domain.errors import InternalError
from planner.domain.plan import BayPlan, PlannedJob, PlanStatus, Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.selectors.plans import PlanContent
from planner.solver.limits import SolveLimits
from planner.solver.reasons import reasons_for
from planner.solver.replan import replan


def bay_plan_again(
    *,
    problem: BayProblem,
    sha256: str,
    published: PlanContent,
    stability: int,
    limits: SolveLimits,
    stop: StopSignal | None = None,
) -> BayPlan:
    """The problem planned so that little of the published plan moves; verified like every plan.

    Raises LockedWorkError where work in hand breaks a rule by itself.
    """
    promised = promised_still(problem, published)
    schedule = replan(problem, promised, stability=stability, limits=limits, stop=stop)
    breaches = schedule_verify(problem, schedule)
    if breaches:
        raise InternalError("the plan breaks a rule: " + "; ".join(str(each) for each in breaches[:3]))
    return BayPlan(
        problem_sha256=sha256,
        status=PlanStatus.FEASIBLE,
        score=score(problem, schedule.jobs),
        bound=0,
        schedule=schedule,
        unplanned=reasons_for(problem, schedule),
    )


def promised_still(problem: BayProblem, published: PlanContent) -> Schedule:
    """The published schedule on this problem's clock: of each job the stages that are still in it."""
    later = int((published.problem.origin - problem.origin).total_seconds()) // 60
    return Schedule(jobs=tuple(_still(problem, published, later)), watch=())


def _still(problem: BayProblem, published: PlanContent, later: int) -> Iterator[PlannedJob]:
    names = {job.id: [stage.name for stage in job.stages] for job in problem.jobs}
    for job in published.plan.schedule.jobs:
        stages = tuple(
            replace(stage, start=stage.start + later, end=stage.end + later)
            for stage in job.stages
            if stage.name in names.get(job.id, ())
        )
        if stages and [stage.name for stage in stages] == names[job.id]:
            yield PlannedJob(id=job.id, stages=stages)
