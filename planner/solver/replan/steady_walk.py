"""The walk of the improvement search where moving what was published costs something."""

from dataclasses import replace
from random import Random

from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Board, Placement
from planner.scheduling.dispatch.claims import Stand
from planner.scheduling.dispatch.insertion import Lean
from planner.scheduling.dispatch.orders import in_sequence
from planner.solver.improvement.cooling import Cooling, cooling_of
from planner.solver.improvement.walk import FLOW_SHARE, Walk
from planner.solver.limits import SolveLimits
from planner.solver.replan.promise import Promise, at_home

GOES_HOME = 0.5
"""How often a job that was published is put back as near to its published place as it goes."""


MILD = 0.1
"""How warm the walk begins beside one for a new plan: what holds already should not be melted down."""


class MildCooling(Cooling):
    """Cools as usual from a lower start."""

    @classmethod
    def of(cls, bay: Bay, limits: SolveLimits) -> "MildCooling":
        """The mild cooling for a bay and a limit of work."""
        usual = cooling_of(bay, limits)
        return cls(usual.usual, usual.length)

    def at(self, insertions: int, *, in_time: bool) -> float:
        """How much worse a plan may get after so many insertions [priority-weighted min], as a mean."""
        return MILD * super().at(insertions, in_time=in_time)


class SteadyWalk(Walk):
    """Keeps the plan of the least cost, moves included, rather than that of the best score."""

    def __init__(self, board: Board, random: Random, cooling: Cooling, promise: Promise) -> None:
        self.promise = promise
        super().__init__(board, random, cooling)
        self.best_cost = self.cost

    def settle(self) -> None:
        """Take each moved job of the best plan home again where that costs less, until none is left."""
        self.board.restore(self.best)
        while sum(self._settled(number) for number in sorted(self.promise.homes)):
            pass
        self.cost = self._cost()
        self._remember()

    def _settled(self, number: int) -> bool:
        """Whether a job went nearer to its place, by itself or with its neighbours named again."""
        if not self._is_moved(number):
            return False
        return self._went_home(number, []) or self._went_home(number, self._moved_beside(number))

    def _went_home(self, first: int, others: list[int]) -> bool:
        """Put a job home, and others back at their times with their own people, if that costs less."""
        before, jobs = self.board.snapshot(), self.board.bay.jobs
        was = sum(self._cost_of(number) for number in (first, *others))
        near = {number: self._as_named(number) for number in others} | {first: self.promise.homes[first]}
        for number in near:
            self.board.remove(number)
        for job in in_sequence(self.board.bay, [jobs[first], *(jobs[number] for number in others)]):
            if job.number in near:
                placement = self.insertion.find(self.board, job, near=near[job.number])
                if placement is not None:
                    self.board.place(placement)
        now = sum(self._cost_of(number) for number in near)
        if now < was - 1e-6 and not any(self._holds_up(number) for number in near):
            return True
        self.board.restore(before)
        return False

    def _moved_beside(self, number: int) -> list[int]:
        """The other moved jobs that are in hand at the same time as a job is or was to be."""
        home, placement = self.promise.homes[number], self.board.placements[number]
        if placement is None:
            return []
        start = min(home[0].start, placement.start)
        end = max(home[-1].end, placement.pieces[-1].start + placement.pieces[-1].length)
        return [
            other
            for other in sorted(self.promise.homes)
            if other != number and self._is_moved(other) and self._in_hand(other, start, end)
        ]

    def _in_hand(self, number: int, start: int, end: int) -> bool:
        placement = self.board.placements[number]
        return placement is not None and placement.start < end and start < placement.pieces[-1].start

    def _is_moved(self, number: int) -> bool:
        placement = self.board.placements[number]
        return placement is not None and not at_home(self.board.bay, self.promise.homes[number], placement)

    def _as_named(self, number: int) -> list[Stand]:
        """A job at its present times with the people and pools that were published."""
        placement = self.board.placements[number]
        pieces = placement.pieces if placement else ()
        return [
            replace(home, start=now.start, length=now.length)
            for home, now in zip(self.promise.homes[number], pieces, strict=True)
        ]

    def _holds_up(self, number: int) -> bool:
        """Whether a job ends after one that has to follow it has begun."""
        placement = self.board.placements[number]
        if placement is None:
            return True
        end = self.board.bay.grid.slot_after(placement.end)
        later = (self.board.placements[one] for one in self.board.bay.jobs[number].before)
        return any(one is not None and one.start < end for one in later)

    def _look_at_flow(self) -> None:
        self._in_time, self._flow_share = False, FLOW_SHARE
        self.cost = self._cost()

    def _remember(self) -> None:
        # Sums of floats differ in their last digits by the way that led to them.
        if self.cost < self.best_cost - 1e-6:
            self.best, self.best_cost = self.board.snapshot(), self.cost

    def _found(self, job: BayJob, lean: Lean) -> Placement | None:
        home = self.promise.homes.get(job.number)
        if home is not None and self.random.random() < GOES_HOME:
            return self.insertion.find(self.board, job, near=home)
        return super()._found(job, lean)

    def _cost_of(self, number: int) -> float:
        return super()._cost_of(number) + self.promise.cost(number, self.board.placements[number])
