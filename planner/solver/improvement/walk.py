"""One worker's walk through plans: ruin, recreate, and accept by simulated annealing."""

from math import log
from random import Random

from planner.domain.plan import Score
from planner.domain.progress import StopSignal
from planner.scheduling.dispatch.bay import BayJob
from planner.scheduling.dispatch.board import Board, Placement, Snapshot
from planner.scheduling.dispatch.construct import score_of
from planner.scheduling.dispatch.insertion import Insertion, Lean
from planner.solver.improvement.cooling import Cooling
from planner.solver.improvement.recreate import order_of
from planner.solver.improvement.ruin import ruins_of, with_chains

FLOW_SHARE, FLOW_SHARE_IN_TIME = 0.02, 1.0
"""What a minute of flow is worth on the walk [priority-weighted min], and what once only flow is left to win.

The best plan is kept by the score, lateness first.
"""
MOST_REMOVED = 10
MOST_LEFT_OUT = 6
SKIPS = 0.03
"""How often a job is given not its earliest end but the next, so that a walk does not run in rings."""
LEANS_LATE = 0.75
"""How often the pieces before a job's end stand as late as they can."""


class Walk:
    """A walk that starts from a board and remembers the best plan it has met.

    Once a plan is no later than `least`, only flow is left to win.
    """

    def __init__(self, board: Board, random: Random, cooling: Cooling, *, least: int = 0) -> None:
        self._least = least
        self.board, self.random, self.cooling = board, random, cooling
        self.insertion, self._ruins = Insertion.on(board), ruins_of(board.bay)
        self.insertions = 0
        self.best: Snapshot = board.snapshot()
        self.best_score: Score = score_of(board)
        self._look_at_flow()

    def go_on_from(self, snapshot: Snapshot) -> None:
        """Go on from another plan."""
        self.board.restore(snapshot)
        self._remember()
        self._look_at_flow()

    def _look_at_flow(self) -> None:
        """Weigh flow by whether any lateness is left to win."""
        self._in_time = self.best_score.lateness <= self._least
        self._flow_share = FLOW_SHARE_IN_TIME if self._in_time else FLOW_SHARE
        self.cost = self._cost()

    def advance(self, insertions: int, stop: StopSignal | None = None) -> None:
        """Walk until so many more insertions have been tried; `stop` is asked after each step."""
        until = self.insertions + insertions
        while self.insertions < until and not (stop is not None and stop()):
            self._step()

    def _step(self) -> None:
        before = self.board.snapshot()
        self.insertions += 1
        allowed = self.cost - self.cooling.at(self.insertions, in_time=self._in_time) * log(
            1.0 - self.random.random()
        )
        cost = self._moved(allowed)
        if cost > allowed:
            self.board.restore(before)
            return
        self.cost = cost
        self._remember()

    def _remember(self) -> None:
        score = score_of(self.board)
        if score < self.best_score:
            self.best, self.best_score = self.board.snapshot(), score

    def _moved(self, allowed: float) -> float:
        """Take some jobs off and put them back; the cost, or the first one above `allowed`."""
        board, random = self.board, self.random
        missing = [number for number, one in enumerate(board.placements) if one is None]
        asked = random.sample(missing, min(len(missing), random.randint(0, MOST_LEFT_OUT)))
        ruin = random.choice(self._ruins)
        chosen = with_chains(board, ruin(board, random, random.randint(1, MOST_REMOVED)) + asked)
        cost = self.cost - sum(self._cost_of(number) for number in chosen)
        for number in chosen:
            if board.placements[number] is not None:
                board.remove(number)
        return self._put_back(chosen, cost, allowed)

    def _put_back(self, numbers: list[int], cost: float, allowed: float) -> float:
        board, random = self.board, self.random
        lean = Lean.LATE if random.random() < LEANS_LATE else Lean.EARLY
        for job in order_of(board.bay, numbers, random):
            self.insertions += 1
            placement = self._found(job, lean)
            if placement is not None:
                board.place(placement)
            cost += self._cost_of(job.number)
            if cost > allowed:
                break
        return cost

    def _found(self, job: BayJob, lean: Lean) -> Placement | None:
        """Where a job goes that was taken off or left out; None where it fits nowhere."""
        return self.insertion.find(self.board, job, lean, 1 if self.random.random() < SKIPS else 0)

    def _cost_of(self, number: int) -> float:
        job, placement = self.board.bay.jobs[number], self.board.placements[number]
        if placement is None:
            return job.cost_left_out
        return job.lateness(placement.end) + self._flow_share * placement.end

    def _cost(self) -> float:
        return sum(self._cost_of(number) for number in range(len(self.board.placements)))
