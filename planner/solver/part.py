"""A part of a plan solved anew: some jobs free, everything else held where it stands."""

from collections.abc import Mapping

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import StopSignal
from planner.solver.bay import Bay, bay_of
from planner.solver.build import build_model
from planner.solver.extract import by_job, schedule_from
from planner.solver.hints import hint
from planner.solver.limits import SolveLimits
from planner.solver.objective import objective_of
from planner.solver.run import Answer, run
from planner.solver.state import BayState


def solve_part(
    problem: BayProblem | Bay,
    incumbent: Schedule,
    free: frozenset[str],
    *,
    max_deterministic_time: float,
    seed: int,
    stop: StopSignal | None = None,
) -> Schedule | None:
    """The best plan found in which only the `free` jobs move; None where none better was found.

    One worker and a limit of work make the answer depend on nothing but its arguments. Pass the `Bay` of
    the problem where many parts of one problem are solved: it is built once.
    """
    bay = problem if isinstance(problem, Bay) else bay_of(problem)
    model = build_model(part_state(bay, incumbent, free))
    objective = objective_of(model)
    horizon = len(model.jobs) * bay.problem.horizon_end + 1
    model.cp.minimize(horizon * objective.lateness + objective.flow)
    hint(model, incumbent)
    limits = SolveLimits(work=max_deterministic_time, seed=seed)
    result = run(model.cp, limits, stop, quick=True)
    if result.answer in (Answer.INFEASIBLE, Answer.OUT_OF_TIME):
        return None
    return schedule_from(model, result.solver, by_job(incumbent))


def part_state(bay: Bay, incumbent: Schedule, free: frozenset[str]) -> BayState:
    """The bay with every planned job held that is not free."""
    held = tuple(job for job in incumbent.jobs if job.id not in free)
    return BayState(
        bay=bay,
        free=tuple(work for id_, work in bay.works.items() if id_ in free),
        held=held,
        held_watch={} if bay.problem.rules.handover_allowed else _watch(incumbent, {job.id for job in held}),
    )


def _watch(incumbent: Schedule, held: set[str]) -> Mapping[str, str]:
    return {job: entry.technician for entry in incumbent.watch for job in entry.jobs if job in held}
