"""A plan's own account of itself: its score, bound, status and digest, and who is left out."""

from collections import Counter
from collections.abc import Iterator

from planner.domain.breach import Breach
from planner.domain.plan import BayPlan, PlanStatus, Score
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence, _


def account_check(problem: BayProblem, plan: BayPlan, sha256: str | None) -> Iterator[Breach]:
    """Everything that a plan says of itself and that is not so."""
    if sha256 is not None and plan.problem_sha256 != sha256:
        yield _breach(_("the plan was made for another problem: the digests differ"))
    if plan.status is PlanStatus.INFEASIBLE:
        yield _breach(_("the plan says of itself that the locked work breaks a rule"))
    yield from _left_out(problem, plan)
    yield from _figures(problem, plan)


def _left_out(problem: BayProblem, plan: BayPlan) -> Iterator[Breach]:
    planned = {job.id for job in plan.schedule.jobs}
    wanted = {job.id for job in problem.jobs} - planned
    named = Counter(left_out.job for left_out in plan.unplanned)
    for job in sorted(wanted - named.keys()):
        yield _breach(_("{job}: neither planned nor left out with a reason", job=job), job)
    for job in sorted(named.keys() - wanted):
        is_planned = _("{job}: said to be left out, but it is planned", job=job)
        is_unknown = _("{job}: said to be left out, but it is unknown", job=job)
        yield _breach(is_planned if job in planned else is_unknown, job)
    for job in sorted(job for job, times in named.items() if times > 1):
        yield _breach(_("{job}: left out more than once", job=job), job)


def _figures(problem: BayProblem, plan: BayPlan) -> Iterator[Breach]:
    true = _true_score(problem, plan)
    if plan.score != true:
        yield _breach(
            _(
                "the score says lateness {lateness} and flow {flow}; they are {true_lateness} and "
                "{true_flow}",
                lateness=plan.score.lateness,
                flow=plan.score.flow,
                true_lateness=true.lateness,
                true_flow=true.flow,
            )
        )
    if plan.bound > true.lateness:
        yield _breach(
            _(
                "the bound {bound} is not below the lateness {lateness}",
                bound=plan.bound,
                lateness=true.lateness,
            )
        )
    if plan.status is PlanStatus.OPTIMAL and plan.bound != true.lateness:
        yield _breach(
            _(
                "said to be optimal with the bound {bound} under the lateness {lateness}",
                bound=plan.bound,
                lateness=true.lateness,
            )
        )


def _true_score(problem: BayProblem, plan: BayPlan) -> Score:
    """The score by its definition; `scheduling.score` is not asked: neither can hide the other's slip."""
    finish: dict[str, int] = {}
    for planned in plan.schedule.jobs:
        finish.setdefault(planned.id, planned.stages[-1].end)
    length = problem.horizon_end
    lateness = flow = 0
    for job in problem.jobs:
        if job.id in finish:
            lateness += max(finish[job.id] - job.needed_by, 0) * job.priority
            flow += finish[job.id]
        else:
            lateness += (max(length - job.needed_by, 0) + length) * job.priority
    return Score(lateness, flow)


def _breach(message: Sentence, job: str | None = None) -> Breach:
    return Breach(rule="account", message=message, job=job)
