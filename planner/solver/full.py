"""The whole problem as one model: exact, and proven where time allows."""

from time import monotonic

from planner.domain.errors import InternalError
from planner.domain.plan import PlanStatus, Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener, Progress, StopSignal
from planner.solver.bay import bay_of
from planner.solver.build import build_model, whole_state
from planner.solver.extract import by_job, schedule_from
from planner.solver.hints import hint
from planner.solver.limits import SolveLimits
from planner.solver.model import BayModel
from planner.solver.objective import Objective, objective_of
from planner.solver.run import Answer, Run, run


def solve_full(
    problem: BayProblem,
    *,
    start: Schedule | None = None,
    limits: SolveLimits,
    listener: Listener | None = None,
    stop: StopSignal | None = None,
) -> tuple[Schedule | None, int, PlanStatus]:
    """The best plan found, a proven bound on its lateness, and what is known of it.

    Lateness is made least first; then flow, at that lateness. `optimal` means that both are proven. The
    schedule is None only where there is no start and nothing was found, or where locked work breaks a
    rule (`infeasible`).
    """
    whole = _Whole(problem, start, limits, listener, stop)
    return whole.solve()


class _Whole:
    def __init__(
        self,
        problem: BayProblem,
        start: Schedule | None,
        limits: SolveLimits,
        listener: Listener | None,
        stop: StopSignal | None,
    ) -> None:
        self._best, self._limits, self._listener, self._stop = start, limits, listener, stop
        self._begun, self._work = monotonic(), 0.0
        self._model: BayModel = build_model(whole_state(bay_of(problem)))
        self._objective: Objective = objective_of(self._model)
        self._bound = 0

    def solve(self) -> tuple[Schedule | None, int, PlanStatus]:
        had_start = self._best is not None
        self._model.cp.minimize(self._objective.lateness)
        first = self._run("lateness")
        if first.answer is Answer.INFEASIBLE:
            if had_start:
                raise InternalError("the model of the bay has no plan, though one was given")
            return None, 0, PlanStatus.INFEASIBLE
        self._bound = max(first.bound, 0)
        if first.answer is not Answer.OPTIMAL:
            return self._best, self._bound, PlanStatus.FEASIBLE
        self._bound = first.objective
        status = self._least_flow()
        return self._best, self._bound, status

    def _least_flow(self) -> PlanStatus:
        self._model.cp.add(self._objective.lateness <= self._bound)
        self._model.cp.minimize(self._objective.flow)
        second = self._run("flow")
        return PlanStatus.OPTIMAL if second.answer is Answer.OPTIMAL else PlanStatus.FEASIBLE

    def _run(self, phase: str) -> Run:
        if self._best is not None:
            hint(self._model, self._best)
        result = run(
            self._model.cp, self._left(), self._stop, lambda value, bound: self._hear(phase, value, bound)
        )
        self._work += result.work
        if result.has_plan:
            self._best = schedule_from(self._model, result.solver, by_job(self._best))
        return result

    def _left(self) -> SolveLimits:
        seconds, work = self._limits.seconds, self._limits.work
        return SolveLimits(
            seconds=None if seconds is None else max(0.0, seconds - (monotonic() - self._begun)),
            work=None if work is None else max(0.0, work - self._work),
            workers=self._limits.workers,
            seed=self._limits.seed,
        )

    def _hear(self, phase: str, value: int, bound: int) -> None:
        if self._listener is None:
            return
        in_flow = phase == "flow"
        self._listener(
            Progress(
                phase=phase,
                score=Score(lateness=self._bound, flow=value) if in_flow else None,
                bound=self._bound if in_flow else max(bound, 0),
                seconds=monotonic() - self._begun,
                work=self._work,
            )
        )
