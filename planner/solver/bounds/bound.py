"""The bound on lateness that a plan is measured against."""

from time import monotonic

from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.solver.bay import bay_of
from planner.solver.bounds.lagrange import PriceSearch, parts_of
from planner.solver.build import whole_state
from planner.solver.limits import SolveLimits

STEPS_TO_SETTLE = 2500
"""After so many steps the bound hardly moves any more."""
WORK_PER_JOB_STEP = 2.0e-7
"""Work that one step takes for each job and each step of the horizon; about seconds on a common machine."""


def bound(problem: BayProblem, *, limits: SolveLimits, stop: StopSignal | None = None) -> int:
    """A proven lower bound on the lateness of every plan of the problem [priority-weighted min].

    The same problem and limit of work give the same bound; seconds and `stop` only end it early.
    """
    return priced(problem, limits=limits, stop=stop).bound


def priced(
    problem: BayProblem,
    *,
    limits: SolveLimits,
    stop: StopSignal | None = None,
    most_steps: int = STEPS_TO_SETTLE,
    flow_weight: int = 0,
) -> PriceSearch:
    """Prices as good as the limits allow, with their bound and what else follows from them.

    The bound is on the lateness, and with a `flow_weight` on the sum of it and so many times the flow.
    """
    # The preparation counts as well: on a long horizon it takes seconds.
    begun, steps = monotonic(), min(most_steps * parts_of(len(problem.jobs)), _steps(problem, limits))
    search = PriceSearch(whole_state(bay_of(problem)), flow_weight=flow_weight)
    proof_seconds = 0.0
    for step in range(steps):
        gone = monotonic() - begun
        if (stop is not None and stop()) or (
            limits.seconds is not None and gone + proof_seconds >= limits.seconds
        ):
            break
        in_time = gone / limits.seconds if limits.seconds and limits.work is None else 0.0
        search.step(max(step / steps, in_time))
        if step == 0 and search.parts > 1:
            proof_seconds = monotonic() - begun - gone
    if search.parts > 1:
        search.prove()
    return search


def _steps(problem: BayProblem, limits: SolveLimits) -> int:
    parts = parts_of(len(problem.jobs))
    if limits.work is None:
        return STEPS_TO_SETTLE * parts
    each = WORK_PER_JOB_STEP * max(len(problem.jobs), 1) * problem.horizon_end / problem.grid_minutes
    return max(1, min(STEPS_TO_SETTLE * parts, int(limits.work / each * parts)))
