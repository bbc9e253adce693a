"""The whole problem as one model: exact, and proven where time allows."""

from planner.domain.errors import InternalError
from planner.domain.plan import PlanStatus, Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener, Progress, StopSignal
from planner.solver.bay import bay_of
from planner.solver.bounds.narrowing import Narrowing
from planner.solver.budget import Budget
from planner.solver.build import build_model, whole_state
from planner.solver.extract import by_job, schedule_from
from planner.solver.hints import hint
from planner.solver.limits import SolveLimits
from planner.solver.model import BayModel, Step
from planner.solver.objective import Objective, objective_of, schedule_score
from planner.solver.run import Answer, Run, complete_hint, run

Strategies = tuple[str, ...]

LATENESS_SHARE = 0.8
"""How much may go to the proof of the least lateness; the rest makes the flow less."""
FOR_LATENESS = ("core", "quick_restart")
"""In a narrowed model with much between bound and plan: what cannot all be in time, found set by set."""
FOR_FLOW = ("no_lp", "quick_restart")
"""With little between: plain search with much learned, which linear programmes only hold up."""


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
    whole = WholeModel(problem, start, Budget(limits, stop), listener)
    whole.least_lateness()
    whole.least_flow()
    return whole.best, whole.bound, whole.status


class WholeModel:
    """The model with the best plan so far and what is proven: the bound, and a status that is final.

    What it does is taken from `budget`. A `start` must hold every rule.
    """

    def __init__(
        self, problem: BayProblem, start: Schedule | None, budget: Budget, listener: Listener | None = None
    ) -> None:
        self._problem, self.best = problem, start
        self._budget, self._listener = budget, listener
        self._model: BayModel = build_model(whole_state(bay_of(problem)))
        self._objective: Objective = objective_of(self._model)
        self._weight = 1
        self._for_lateness: Strategies = ()
        self._for_flow: Strategies = ()
        self.bound, self.status = 0, PlanStatus.FEASIBLE
        self._is_least_late = False

    def narrow_lateness(self, narrowing: Narrowing) -> None:
        """Leave aside what no plan as little late as the best holds."""
        narrowing.post(self._model)
        self._between(narrowing, self._objective.lateness)
        self.bound = max(self.bound, narrowing.bound)
        self._for_lateness = FOR_LATENESS

    def narrow_flow(self, narrowing: Narrowing) -> None:
        """Leave aside what no plan as good as the best holds, by prices for lateness and flow in one sum."""
        narrowing.post(self._model)
        self._between(narrowing, self._objective.lateness + self._objective.flow)
        self._for_flow = FOR_FLOW

    def _between(self, narrowing: Narrowing, cost: Step) -> None:
        self._model.cp.add(cost <= narrowing.at_most)
        self._model.cp.add(cost >= narrowing.bound)

    def least_lateness(self) -> None:
        """Less lateness, and a better bound."""
        self._model.cp.minimize(self._objective.lateness)
        result = self._run("lateness", LATENESS_SHARE, strategies=self._for_lateness)
        if result.answer is Answer.INFEASIBLE:
            self._infeasible()
            return
        self.bound = max(self.bound, result.bound)
        if result.answer is Answer.OPTIMAL:
            self.bound, self._is_least_late = result.objective, True

    def least_flow(self) -> None:
        """Less flow at the lateness reached, whether or not that is proven least."""
        if self.best is None:
            return
        self._model.cp.add(self._objective.lateness <= schedule_score(self._problem, self.best).lateness)
        self._model.cp.minimize(self._objective.flow)
        result = self._run("flow", strategies=self._for_flow)
        if result.answer is Answer.OPTIMAL and self._is_least_late:
            self.status = PlanStatus.OPTIMAL

    def least_of_both(self) -> None:
        """Both at once, by one objective in which any lateness outweighs all flow."""
        most_flow = len(self._problem.jobs) * self._problem.horizon_end
        self._weight = most_flow + 1
        self._model.cp.minimize(self._weight * self._objective.lateness + self._objective.flow)
        result = self._run("together", quick=True)
        if result.answer is Answer.INFEASIBLE:
            self._infeasible()
            return
        self.bound = max(self.bound, result.bound // self._weight)
        if result.answer is Answer.OPTIMAL:
            self.status = PlanStatus.OPTIMAL

    def _infeasible(self) -> None:
        if self.best is not None:
            raise InternalError("the model of the bay has no plan, though one was given")
        self.status = PlanStatus.INFEASIBLE

    def _run(
        self, phase: str, share: float = 1.0, *, quick: bool = False, strategies: Strategies = ()
    ) -> Run:
        limits = self._budget.share(share).limits
        if self.best is not None:
            hint(self._model, self.best)
            complete_hint(self._model.cp, limits)
        result = run(
            self._model.cp,
            limits,
            self._budget.is_stopped,
            lambda value, bound: self._hear(phase, value, bound),
            quick=quick,
            strategies=strategies,
        )
        self._budget.work_done(result.work)
        if result.has_plan:
            self.keep(schedule_from(self._model, result.solver, by_job(self.best)))
        return result

    def keep(self, found: Schedule) -> None:
        """Keep the better plan: a run for lateness alone may find an equal one with more flow."""
        if self.best is None or schedule_score(self._problem, found) < schedule_score(
            self._problem, self.best
        ):
            self.best = found

    def _hear(self, phase: str, value: int, bound: int) -> None:
        if self._listener is None:
            return
        score, proven = None, max(bound, self.bound)
        if phase == "together":
            score, proven = Score(*divmod(value, self._weight)), max(bound // self._weight, self.bound)
        elif phase == "flow" and self.best is not None:
            reached = schedule_score(self._problem, self.best).lateness
            score, proven = Score(lateness=reached, flow=value), self.bound
        self._listener(
            Progress(
                phase=phase,
                score=score,
                bound=proven,
                seconds=self._budget.seconds_gone(),
                work=self._budget.work_gone,
            )
        )
