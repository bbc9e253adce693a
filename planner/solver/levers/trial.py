"""What pulling one lever would buy, by solving the changed bay from the plan in hand."""

from dataclasses import dataclass

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.domain.sentences import Sentence, _
from planner.solver.bounds import bound
from planner.solver.levers.lever import Lever
from planner.solver.limits import SolveLimits
from planner.solver.objective import schedule_lateness
from planner.solver.solve import solve

NOTHING = Lever(
    id="nothing", words=_("The bay as it is, searched for as long"), change=lambda problem: problem
)
"""The trial that all others are measured against: what more searching alone would buy."""

BOUND_SHARE = 0.25
"""The share of the work that goes into each trial's own bound."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverTrial:
    """One lever's outcome beside the plan in hand and beside searching on without any change.

    Gains are in priority-weighted minutes and tyres. `gap` is what the trial's own plan may still lack
    [priority-weighted min]. `within_noise` says that searching on alone would have bought as much.
    """

    lever: str
    words: Sentence
    lateness: int
    tyres_in_time: int
    lateness_gain: int
    tyres_gain: int
    gap: int
    within_noise: bool


def lever_try(
    problem: BayProblem,
    incumbent: Schedule,
    lever: Lever,
    *,
    baseline: Schedule,
    limits: SolveLimits,
    stop: StopSignal | None = None,
) -> LeverTrial:
    """Pull one lever; `baseline` is the outcome of searching the unchanged bay with the same limits.

    With a limit of work and none of seconds, the same question has the same answer on any machine.
    """
    changed = lever.change(problem)
    found = _solved(changed, incumbent, _share(limits, 1 - BOUND_SHARE), stop)
    lateness = schedule_lateness(changed, found)
    least = min(schedule_lateness(problem, incumbent), schedule_lateness(problem, baseline))
    proven = bound(changed, limits=_share(limits, BOUND_SHARE), stop=stop)
    return LeverTrial(
        lever=lever.id,
        words=lever.words,
        lateness=lateness,
        tyres_in_time=tyres_in_time(changed, found),
        lateness_gain=least - lateness,
        tyres_gain=tyres_in_time(changed, found) - tyres_in_time(problem, baseline),
        gap=max(lateness - proven, 0),
        within_noise=least - lateness <= schedule_lateness(problem, incumbent) - least,
    )


def baseline_solve(
    problem: BayProblem, incumbent: Schedule, *, limits: SolveLimits, stop: StopSignal | None = None
) -> Schedule:
    """The unchanged bay, searched as long as each lever will be."""
    return _solved(problem, incumbent, _share(limits, 1 - BOUND_SHARE), stop)


def tyres_in_time(problem: BayProblem, schedule: Schedule) -> int:
    """How many jobs are planned and end by when they are needed."""
    needed_by = {job.id: job.needed_by for job in problem.jobs}
    return sum(job.end <= needed_by[job.id] for job in schedule.jobs)


def _solved(
    problem: BayProblem, incumbent: Schedule, limits: SolveLimits, stop: StopSignal | None
) -> Schedule:
    return solve(problem, start=incumbent, limits=limits, stop=stop).schedule


def _share(limits: SolveLimits, part: float) -> SolveLimits:
    return SolveLimits(
        seconds=None if limits.seconds is None else part * limits.seconds,
        work=None if limits.work is None else part * limits.work,
        workers=limits.workers,
        seed=limits.seed,
    )
