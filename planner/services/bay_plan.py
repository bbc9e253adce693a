"""One way from a bay problem to a verified bay plan, for the command line and the worker alike."""

import logging
from collections.abc import Iterable
from dataclasses import replace
from time import monotonic

from planner.domain.breach import Breach
from planner.domain.errors import InternalError
from planner.domain.plan import BayPlan, PlanStatus, Reason, Schedule, Score, UnplannedJob
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener, Progress, StopSignal
from planner.domain.sentences import _
from planner.scheduling.dispatch import LockedWorkError, dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import locked_verify, schedule_verify, verify
from planner.solver.limits import SolveLimits
from planner.solver.reasons import reasons_for
from planner.solver.solution import Solution
from planner.solver.solve import solve

_log = logging.getLogger(__name__)

_RESERVE_SHARE = 0.05
_RESERVE_SECONDS_PER_JOB = 0.01
"""What is kept of the time for reasons and the last check: a share, or what so many jobs take."""


def bay_plan_make(
    *,
    problem: BayProblem,
    sha256: str,
    limits: SolveLimits,
    listener: Listener | None = None,
    stop: StopSignal | None = None,
) -> BayPlan:
    """Plan a bay: dispatch, improve, give reasons, verify.

    Args:
        problem: what is to be planned.
        sha256: the digest of the problem file's bytes, which the plan carries.
        limits: how long the whole may take, dispatch and reasons included.
        listener: hears of each better plan and bound.
        stop: asked often; once it answers true, the best plan so far is made ready.

    Returns:
        A plan without a breach; or, where locked work breaks a rule by itself, a plan of no jobs whose status
        is `infeasible` and whose reasons say which.

    Raises:
        InternalError: no planner's plan holds every rule; nothing may be stored or shown.

    """
    begun = monotonic()
    try:
        dispatched = dispatch(problem, seed=limits.seed, stop=stop)
    except LockedWorkError as fault:
        return _infeasible(problem, sha256, locked_verify(problem) or fault.breaches)
    if schedule_verify(problem, dispatched) and (breaches := locked_verify(problem)):
        return _infeasible(problem, sha256, breaches)
    _tell(listener, "dispatch", score(problem, dispatched.jobs), monotonic() - begun)
    found = _best(problem, dispatched, _remaining(problem, limits, monotonic() - begun), listener, stop)
    plan = BayPlan(
        problem_sha256=sha256,
        status=found.status,
        score=score(problem, found.schedule.jobs),
        bound=found.bound,
        schedule=found.schedule,
        unplanned=_reasons(problem, found.schedule),
    )
    _refuse_breaches(problem, plan)
    return plan


def _reasons(problem: BayProblem, schedule: Schedule) -> tuple[UnplannedJob, ...]:
    """Why each job is left out; a fault of ours in finding that must not lose the plan itself."""
    try:
        return reasons_for(problem, schedule)
    except Exception:
        _log.exception("no reasons were found; the plan stands")
    planned = {job.id for job in schedule.jobs}
    plain = Reason(code="not_placed", message=_("The planner found no place for it in the time that it had."))
    return tuple(UnplannedJob(job=job.id, reasons=(plain,)) for job in problem.jobs if job.id not in planned)


def _tell(listener: Listener | None, phase: str, reached: Score, seconds: float) -> None:
    if listener is not None:
        listener(Progress(phase=phase, score=reached, bound=0, seconds=seconds, work=0.0))


def _remaining(problem: BayProblem, limits: SolveLimits, spent_seconds: float) -> SolveLimits:
    """What is left for the solver once dispatch, reasons and the last check have had their time."""
    if limits.seconds is None:
        return limits
    reserve = max(_RESERVE_SHARE * limits.seconds, _RESERVE_SECONDS_PER_JOB * len(problem.jobs))
    return replace(limits, seconds=max(0.0, limits.seconds - reserve - spent_seconds))


def _best(
    problem: BayProblem,
    dispatched: Schedule,
    limits: SolveLimits,
    listener: Listener | None,
    stop: StopSignal | None,
) -> Solution:
    """The solver's plan where it holds and is no worse than dispatch's, which stands otherwise."""
    stands = Solution(schedule=dispatched, bound=0, status=PlanStatus.FEASIBLE)
    if limits.seconds == 0 or (stop is not None and stop()):
        return stands
    try:
        solution = solve(problem, start=dispatched, limits=limits, listener=listener, stop=stop)
    except Exception:
        _log.exception("the solver failed; the dispatched plan stands")
        return stands
    return stands if _objection(problem, dispatched, solution) else solution


def _objection(problem: BayProblem, dispatched: Schedule, solution: Solution) -> str | None:
    """Why the solver's answer cannot be taken; the reason is logged, for it is a fault of ours."""
    breaches = schedule_verify(problem, solution.schedule)
    reached, before = score(problem, solution.schedule.jobs), score(problem, dispatched.jobs)
    objection = None
    if breaches:
        objection = f"it breaks {breaches[0]}"
    elif reached > before:
        objection = f"it scores {reached}, dispatch {before}"
    elif solution.bound > reached.lateness:
        objection = f"its bound {solution.bound} is above its lateness {reached.lateness}"
    elif solution.status is PlanStatus.OPTIMAL and solution.bound != reached.lateness:
        objection = f"it says optimal at the bound {solution.bound}, its lateness is {reached.lateness}"
    if objection:
        _log.error("the solver's plan is refused: %s; the dispatched plan stands", objection)
    return objection


def _infeasible(problem: BayProblem, sha256: str, breaches: Iterable[Breach | str]) -> BayPlan:
    reasons = tuple(
        Reason(
            code="locked_work", message=_("The locked work breaks a rule by itself: {breach}.", breach=each)
        )
        for breach in breaches
        for each in (breach.words if isinstance(breach, Breach) else breach,)
    )
    return BayPlan(
        problem_sha256=sha256,
        status=PlanStatus.INFEASIBLE,
        score=score(problem, ()),
        bound=0,
        schedule=Schedule(jobs=(), watch=()),
        unplanned=tuple(UnplannedJob(job=job.id, reasons=reasons) for job in problem.jobs),
    )


def _refuse_breaches(problem: BayProblem, plan: BayPlan) -> None:
    breaches = verify(problem, plan)
    if breaches:
        lines = "; ".join(str(breach) for breach in breaches[:10])
        raise InternalError(f"the plan breaks {len(breaches)} rules and is not used: {lines}")
