"""Run the constraint solver: limits, stopping, and one line for each thing that it can answer."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as StillRunningError
from dataclasses import dataclass, replace
from enum import StrEnum

from planner.domain.errors import InternalError
from planner.domain.progress import StopSignal
from planner.solver.door import cp_model
from planner.solver.limits import SolveLimits

POLL_SECONDS = 0.25
"""How often a running solve looks whether it should stop."""


class Answer(StrEnum):
    """What one run of the constraint solver found out."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    OUT_OF_TIME = "out of time"


@dataclass(frozen=True, kw_only=True)
class Run:
    """An answer with the objective, its proven bound and the values behind it."""

    answer: Answer
    objective: int
    bound: int
    work: float
    solver: cp_model.CpSolver

    @property
    def has_plan(self) -> bool:
        """Whether there are values to read."""
        return self.answer in (Answer.OPTIMAL, Answer.FEASIBLE)


def run(
    cp: cp_model.CpModel,
    limits: SolveLimits,
    stop: StopSignal | None = None,
    on_plan: Callable[[int, int], None] | None = None,
    *,
    quick: bool = False,
    strategies: Sequence[str] = (),
) -> Run:
    """Solve in a helper thread, so that `stop` and an interrupt are heard while the solver works.

    `on_plan` hears the objective and the bound of each better plan; `quick` spares the preparation that
    only pays off on long solves; `strategies` names the solver's own ways to search where its usual choice
    is not the best, and there is a worker for each. Raises InternalError where it calls the model invalid.
    """
    solver = _solver(limits)
    if limits.workers >= len(strategies):
        solver.parameters.subsolvers.extend(strategies)
    if quick:
        _spare_presolve(solver)
    listener = _Listener(on_plan) if on_plan else None
    with ThreadPoolExecutor(max_workers=1) as pool:
        status = _await(pool.submit(solver.solve, cp, listener), solver, stop)
    return _run(cp, solver, status)


def complete_hint(cp: cp_model.CpModel, limits: SolveLimits) -> None:
    """Hint the variables too that follow from those hinted, or the solver would have to search for them.

    Where they follow from nothing within the limits, the hints stay as they are.
    """
    solver = _solver(replace(limits, workers=1))
    solver.parameters.fix_variables_to_their_hinted_value = True
    if _answer(cp, solver.solve(cp)) not in (Answer.OPTIMAL, Answer.FEASIBLE):
        return
    cp.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(solver.response_proto.solution):
        cp.add_hint(cp.get_int_var_from_proto_index(index), value)


def _solver(limits: SolveLimits) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = limits.workers
    parameters.random_seed = limits.seed
    parameters.catch_sigint_signal = False
    if limits.seconds is not None:
        parameters.max_time_in_seconds = max(limits.seconds, 0.0)
    if limits.work is not None:
        parameters.max_deterministic_time = limits.work
        parameters.interleave_search = limits.workers > 1
    return solver


def _spare_presolve(solver: cp_model.CpSolver) -> None:
    """Small models spend two thirds of their time on probing, which gains them nothing."""
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.max_presolve_iterations = 1


def _await(
    future: "Future[cp_model.CpSolverStatus]", solver: cp_model.CpSolver, stop: StopSignal | None
) -> cp_model.CpSolverStatus:
    try:
        while True:
            try:
                return future.result(timeout=POLL_SECONDS)
            except StillRunningError:
                if stop is not None and stop():
                    solver.stop_search()
    except BaseException:
        solver.stop_search()
        raise


def _run(cp: cp_model.CpModel, solver: cp_model.CpSolver, status: cp_model.CpSolverStatus) -> Run:
    answer = _answer(cp, status)
    found = answer in (Answer.OPTIMAL, Answer.FEASIBLE)
    return Run(
        answer=answer,
        objective=round(solver.objective_value) if found else 0,
        bound=_whole_bound(solver.best_objective_bound) if answer is not Answer.INFEASIBLE else 0,
        work=solver.deterministic_time,
        solver=solver,
    )


def _whole_bound(bound: float) -> int:
    """The least whole objective that the bound allows, safe against the last digits of a float."""
    return -int(-(bound - 1e-6) // 1)


def _answer(cp: cp_model.CpModel, status: cp_model.CpSolverStatus) -> Answer:
    if status == cp_model.OPTIMAL:
        return Answer.OPTIMAL
    if status == cp_model.FEASIBLE:
        return Answer.FEASIBLE
    if status == cp_model.INFEASIBLE:
        return Answer.INFEASIBLE
    if status == cp_model.UNKNOWN:
        return Answer.OUT_OF_TIME
    if status == cp_model.MODEL_INVALID:
        raise InternalError(f"the model of the bay is wrong: {cp.validate()}")
    raise InternalError(f"the constraint solver answered {status}, which nobody expected")


class _Listener(cp_model.CpSolverSolutionCallback):
    def __init__(self, on_plan: Callable[[int, int], None]) -> None:
        super().__init__()
        self._on_plan = on_plan

    def on_solution_callback(self) -> None:
        """Pass on the figures of a better plan."""
        self._on_plan(round(self.objective_value), _whole_bound(self.best_objective_bound))
