"""A plan made again in the middle of the day, around what was published."""

from planner.domain.errors import InternalError
from planner.domain.plan import BayPlan, PlanStatus
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.selectors.plan_moves import promised_still
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
