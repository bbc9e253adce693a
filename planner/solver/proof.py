"""A small bay to the end: prices narrow the whole model, which then proves lateness and after it flow."""

from random import Random

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.construct import score_of
from planner.scheduling.dispatch.restore import schedule_place
from planner.scheduling.dispatch.share_out import schedule_of
from planner.solver.bounds.bound import priced
from planner.solver.bounds.lagrange import PriceSearch
from planner.solver.budget import Budget
from planner.solver.full import WholeModel
from planner.solver.improvement.cooling import INSERTIONS_PER_WORK, cooling_of
from planner.solver.improvement.walk import Walk
from planner.solver.limits import SolveLimits
from planner.solver.objective import schedule_score
from planner.solver.solution import Solution

PRICING_SHARE = 0.2
"""What is spent on prices: a step for each pair of jobs at the most."""
TIDYING_TURNS, TIDYING_WORK_PER_JOB = 6, 0.025
"""What is spent on less flow for a plan that the constraint solver left late in its slack: short walks, each
from the best so far, since a long one strays to plans of more lateness and finds no way back."""


class Proof:
    """The last phase of a search on a small bay. `empty` holds the bay's locked work, and nothing else."""

    def __init__(
        self, problem: BayProblem, empty: Board, start: Schedule, budget: Budget, listener: Listener | None
    ) -> None:
        self._problem, self._board, self._budget = problem, empty, budget
        self._whole = WholeModel(problem, start, budget, listener)
        self._start = start

    def bound(self) -> int:
        """Narrow the model by prices; the bound that they prove."""
        search = self._priced()
        self._whole.narrow_lateness(search.narrowing(schedule_score(self._problem, self._start).lateness))
        return search.bound

    def of_both(self) -> Solution:
        """Both in one run, which spares a very small model half of its time and a large one nothing."""
        self._whole.least_of_both()
        return self._solution()

    def one_by_one(self) -> Solution:
        """Lateness, then flow with prices of its own."""
        self._whole.least_lateness()
        if not self._budget.is_spent():
            self._tidy()
            self._narrow_flow()
            self._whole.least_flow()
        return self._solution()

    def _solution(self) -> Solution:
        schedule = self._whole.best or self._start
        return Solution(schedule=schedule, bound=self._whole.bound, status=self._whole.status)

    def _tidy(self) -> None:
        """Less flow at the same lateness: the less lies between plan and bound, the more prices rule out."""
        schedule_place(self._board, self._whole.best or self._start)
        reached = score_of(self._board).lateness
        work = TIDYING_WORK_PER_JOB * len(self._problem.jobs)
        cooling = cooling_of(self._board.bay, SolveLimits(work=work))
        for turn in range(TIDYING_TURNS):
            random = Random(f"{self._budget.limits.seed}/tidy {turn}")  # noqa: S311
            walk = Walk(self._board, random, cooling, least=reached)
            walk.advance(
                int(min(work, self._budget.work_left()) * INSERTIONS_PER_WORK), self._budget.is_spent
            )
            self._budget.work_done(walk.insertions / INSERTIONS_PER_WORK)
            self._board.restore(walk.best)
        self._whole.keep(schedule_of(self._board))

    def _narrow_flow(self) -> None:
        """Any plan no later and with no more flow than the best has no greater sum of the two."""
        score = schedule_score(self._problem, self._whole.best or self._start)
        self._whole.narrow_flow(self._priced(flow_weight=1).narrowing(score.lateness + score.flow))

    def _priced(self, flow_weight: int = 0) -> PriceSearch:
        share = self._budget.share(PRICING_SHARE)
        search = priced(
            self._problem,
            limits=share.limits,
            stop=self._budget.is_stopped,
            most_steps=len(self._problem.jobs) ** 2,
            flow_weight=flow_weight,
        )
        if self._budget.work_left_or_none() is not None:
            self._budget.work_done(share.work_left())
        return search
