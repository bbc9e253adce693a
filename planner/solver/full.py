"""The whole problem as one model: exact, and proven where time allows."""

from time import monotonic

from planner.domain.errors import InternalError
from planner.domain.plan import PlanStatus, Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener, Progress, StopSignal
from planner.solver.bay import bay_of
from planner.solver.bounds.narrowing import Narrowing
from planner.solver.build import build_model, whole_state
from planner.solver.extract import by_job, schedule_from
from planner.solver.hints import hint
from planner.solver.limits import SolveLimits
from planner.solver.model import BayModel
from planner.solver.objective import Objective, objective_of, schedule_lateness, schedule_score
from planner.solver.run import Answer, Run, run

LATENESS_SHARE = 0.6
"""How much may go to the proof of the least lateness; the rest makes the flow less."""


def solve_full(
    problem: BayProblem,
    *,
    start: Schedule | None = None,
    limits: SolveLimits,
    narrowing: Narrowing | None = None,
    together: bool = False,
    listener: Listener | None = None,
    stop: StopSignal | None = None,
) -> tuple[Schedule | None, int, PlanStatus]:
    """The best plan found, a proven bound on its lateness, and what is known of it.

    Lateness is made least first; then flow, at that lateness. `optimal` means that both are proven. The
    schedule is None only where there is no start and nothing was found, or where locked work breaks a
    rule (`infeasible`). A `narrowing` must leave room for the start. With `together` both are one sum in
    one run, which spares a very small model half of its time and a large one nothing.
    """
    whole = _Whole(problem, start, limits, listener, stop)
    if narrowing is not None:
        whole.narrow(narrowing)
    return whole.solve_together() if together else whole.solve()


class _Whole:
    def __init__(
        self,
        problem: BayProblem,
        start: Schedule | None,
        limits: SolveLimits,
        listener: Listener | None,
        stop: StopSignal | None,
    ) -> None:
        self._problem, self._best = problem, start
        self._limits, self._listener, self._stop = limits, listener, stop
        self._begun, self._work = monotonic(), 0.0
        self._model: BayModel = build_model(whole_state(bay_of(problem)))
        self._objective: Objective = objective_of(self._model)
        self._bound = self._reached = 0
        self._weight = 1

    def narrow(self, narrowing: Narrowing) -> None:
        """Leave aside what no plan as good as the start holds."""
        narrowing.post(self._model)
        self._model.cp.add(self._objective.lateness <= narrowing.at_most)
        self._model.cp.add(self._objective.lateness >= narrowing.bound)
        self._bound = narrowing.bound

    def solve(self) -> tuple[Schedule | None, int, PlanStatus]:
        self._model.cp.minimize(self._objective.lateness)
        first = self._run("lateness", LATENESS_SHARE)
        if first.answer is Answer.INFEASIBLE:
            return self._infeasible()
        self._bound = max(first.bound, self._bound)
        if self._best is None:
            return None, self._bound, PlanStatus.FEASIBLE
        if first.answer is Answer.OPTIMAL:
            self._bound = first.objective
        least = self._least_flow(schedule_lateness(self._problem, self._best))
        proven = first.answer is Answer.OPTIMAL and least
        return self._best, self._bound, PlanStatus.OPTIMAL if proven else PlanStatus.FEASIBLE

    def solve_together(self) -> tuple[Schedule | None, int, PlanStatus]:
        """The same by one objective in which any lateness outweighs all flow."""
        most_flow = len(self._problem.jobs) * self._problem.horizon_end
        self._weight = most_flow + 1
        self._model.cp.minimize(self._weight * self._objective.lateness + self._objective.flow)
        result = self._run("together", quick=True)
        if result.answer is Answer.INFEASIBLE:
            return self._infeasible()
        self._bound = max(self._bound, result.bound // self._weight)
        optimal = result.answer is Answer.OPTIMAL
        return self._best, self._bound, PlanStatus.OPTIMAL if optimal else PlanStatus.FEASIBLE

    def _infeasible(self) -> tuple[None, int, PlanStatus]:
        if self._best is not None:
            raise InternalError("the model of the bay has no plan, though one was given")
        return None, 0, PlanStatus.INFEASIBLE

    def _least_flow(self, lateness: int) -> bool:
        """Less flow at that lateness, whether or not that is proven least; whether the flow is."""
        self._reached = lateness
        self._model.cp.add(self._objective.lateness <= lateness)
        self._model.cp.minimize(self._objective.flow)
        return self._run("flow").answer is Answer.OPTIMAL

    def _run(self, phase: str, share: float = 1.0, *, quick: bool = False) -> Run:
        if self._best is not None:
            hint(self._model, self._best)
        result = run(
            self._model.cp,
            self._left(share),
            self._stop,
            lambda value, bound: self._hear(phase, value, bound),
            quick=quick,
        )
        self._work += result.work
        if result.has_plan:
            self._keep(schedule_from(self._model, result.solver, by_job(self._best)))
        return result

    def _keep(self, found: Schedule) -> None:
        """Keep the better plan: a run for lateness alone may find an equal one with more flow."""
        if self._best is None or schedule_score(self._problem, found) < schedule_score(
            self._problem, self._best
        ):
            self._best = found

    def _left(self, share: float) -> SolveLimits:
        seconds, work = self._limits.seconds, self._limits.work
        return SolveLimits(
            seconds=None if seconds is None else max(0.0, share * (seconds - (monotonic() - self._begun))),
            work=None if work is None else max(0.0, share * (work - self._work)),
            workers=self._limits.workers,
            seed=self._limits.seed,
        )

    def _hear(self, phase: str, value: int, bound: int) -> None:
        if self._listener is None:
            return
        score, proven = None, max(bound, self._bound)
        if phase == "together":
            score, proven = Score(*divmod(value, self._weight)), max(bound // self._weight, self._bound)
        elif phase == "flow":
            score, proven = Score(lateness=self._reached, flow=value), self._bound
        self._listener(
            Progress(
                phase=phase,
                score=score,
                bound=proven,
                seconds=monotonic() - self._begun,
                work=self._work,
            )
        )
