"""The solver: from a first plan to the best that its limits allow."""

from dataclasses import replace

from planner.domain.plan import PlanStatus, Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Listener, Progress, StopSignal
from planner.scheduling.dispatch.bay import bay_of
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.construct import board_of, fill, score_of
from planner.scheduling.dispatch.restore import schedule_place
from planner.scheduling.dispatch.share_out import schedule_of
from planner.solver.bounds.bound import bound
from planner.solver.bounds.lagrange import parts_of
from planner.solver.budget import Budget
from planner.solver.improvement.cooling import INSERTIONS_PER_WORK, cooling_of
from planner.solver.improvement.team import Team, team_of
from planner.solver.limits import SolveLimits
from planner.solver.proof import Proof
from planner.solver.solution import Solution

FOR_EVER = 1 << 60
"""More insertions than anybody ever tries."""
ROUND_INSERTIONS = 1000
"""What each worker tries between two looks at the others."""
SMALL_JOBS = 24
SMALL_DAYS = 4
SMALL_SHARE = 0.4
"""Up to so many jobs and days the whole model proves its plan; improvement then gets at most this share."""
WORK_PER_SQUARED_JOBS = 0.015
"""On a small bay improvement has settled after so much work for each pair of jobs."""
TINY_JOBS, TINY_PART = 12, 1 / 9
"""Up to so many jobs one worker improves, for this part of that work; the whole model is soon there."""
WEEK_SHARE, LARGE_SHARE = 0.68, 0.82
"""The share of improvement on a larger bay, and where prices hear only a few jobs at a time; the rest goes
to the bound, which on a bay of a week is worth it."""


def solve(
    problem: BayProblem,
    *,
    start: Schedule,
    limits: SolveLimits,
    listener: Listener | None = None,
    stop: StopSignal | None = None,
) -> Solution:
    """The best plan within `limits`, never worse than `start`, which must hold every rule.

    The same problem, start, seed, work limit and number of workers give the same plan; seconds only ever end
    the search. `stop` is asked at least every 0.25 s; what has been found until then is the answer.
    """
    search = _Search(problem, start, limits, listener, stop)
    return search.solution()


class _Search:
    """One solve: improvement, then for a small bay the whole model."""

    def __init__(
        self,
        problem: BayProblem,
        start: Schedule,
        limits: SolveLimits,
        listener: Listener | None,
        stop: StopSignal | None,
    ) -> None:
        self._problem, self._limits, self._listener = problem, limits, listener
        self._budget = Budget(limits, stop)
        self._bound = 0
        self._board = _board_with(problem, start)

    def solution(self) -> Solution:
        """Run all phases."""
        self._tell("improvement", score_of(self._board))
        share = self._improvement_share()
        cooling = cooling_of(self._board.bay, share.limits)
        workers = 1 if self._is_tiny() else self._limits.workers
        with team_of(self._board, cooling, self._limits.seed, workers) as team:
            self._improve(team, share)
            if not self._is_small():
                self._prove(team)
            self._board.restore(team.best()[1])
        # A job costs less at any end than left out: whatever still fits is worth its place.
        fill(self._board)
        schedule = schedule_of(self._board)
        if self._is_small() and not self._budget.is_spent():
            return self._proven(schedule)
        return Solution(schedule=schedule, bound=self._bound, status=PlanStatus.FEASIBLE)

    def _is_small(self) -> bool:
        days = self._problem.horizon_end / (24 * 60)
        return len(self._problem.jobs) <= SMALL_JOBS and days <= SMALL_DAYS

    def _is_tiny(self) -> bool:
        return self._is_small() and len(self._problem.jobs) <= TINY_JOBS

    def _improve(self, team: Team, share: Budget) -> None:
        """Let the team walk until the budget, or for a small bay its share, is spent."""
        told: Score | None = None
        while not share.is_spent():
            insertions = min(ROUND_INSERTIONS, int(share.work_left() * INSERTIONS_PER_WORK) + 1)
            before = team.insertions
            team.round(insertions, share.is_spent)
            share.work_done((team.insertions - before) / INSERTIONS_PER_WORK)
            self._budget.work_done((team.insertions - before) / INSERTIONS_PER_WORK)
            gone = share.part_of_seconds_gone()
            if gone:
                team.expect(team.walk.insertions / gone)
            if team.best()[0] != told:
                told = team.best()[0]
                self._tell("improvement", told)

    def _improvement_share(self) -> Budget:
        if not self._is_small():
            if score_of(self._board).lateness == 0:
                return self._budget.share(1.0)
            in_parts = parts_of(len(self._problem.jobs)) > 1
            return self._budget.share(LARGE_SHARE if in_parts else WEEK_SHARE)
        work = WORK_PER_SQUARED_JOBS * len(self._problem.jobs) ** 2
        return self._budget.share(SMALL_SHARE, work * TINY_PART if self._is_tiny() else work)

    def _prove(self, team: Team) -> None:
        """Raise the bound with what the budget has left, while the others walk on.

        A plan with nothing late needs no bound.
        """
        if team.best()[0].lateness == 0 or self._budget.is_spent():
            return
        limits = self._left()
        insertions, stop = FOR_EVER, _at_once
        if limits.work is not None:
            limits = replace(limits, work=limits.work / limits.workers)
            insertions, stop = int((limits.work or 0) * INSERTIONS_PER_WORK), self._budget.is_spent
        with team.colleagues_walking(insertions, stop):
            self._bound = bound(self._problem, limits=limits, stop=self._budget.is_stopped)
        self._tell("bound", team.best()[0])

    def _proven(self, schedule: Schedule) -> Solution:
        """What the whole model proves, from the plan found so far."""
        empty = board_of(self._board.bay)
        proof = Proof(self._problem, empty, schedule, self._budget, self._listener)
        self._bound = proof.bound()
        self._tell("bound", score_of(self._board))
        return proof.of_both() if self._is_tiny() else proof.one_by_one()

    def _left(self) -> SolveLimits:
        """The limits of what the budget has left."""
        seconds, work = self._budget.seconds_left(), self._budget.work_left_or_none()
        return replace(self._limits, seconds=seconds, work=work)

    def _tell(self, phase: str, score: Score) -> None:
        if self._listener is not None:
            self._listener(
                Progress(
                    phase=phase,
                    score=score,
                    bound=self._bound,
                    seconds=self._budget.seconds_gone(),
                    work=self._budget.work_gone,
                )
            )


def _at_once() -> bool:
    """A wish to stop."""
    return True


def _board_with(problem: BayProblem, start: Schedule) -> Board:
    """A board with `start`, and with whatever still fits beside it."""
    board = board_of(bay_of(problem))
    schedule_place(board, start)
    fill(board)
    return board
