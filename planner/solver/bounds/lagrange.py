"""A bound from prices: every job by itself, paying for what it shares with the others.

Charge a price (never negative) for each unit of each resource at each step and let every job choose its
cheapest course, or to be left out, as if it were alone. The sum of these least prices, less what the
whole supply would fetch, is never above the lateness of any plan: a plan's own courses cost at least the
least ones, and as it keeps within the supply, it pays at most what the supply fetches. So any prices give
a bound, and better prices a better one; they are raised where courses overrun the supply and lowered
where they leave it idle. Everything is in whole numbers: no rounding can spoil the proof.

The same holds for lateness and flow in one sum, which bounds the flow of plans whose lateness is known.
"""

from dataclasses import dataclass

import numpy as np

from planner.solver.bounds.ascent import Ascent, DailyAscent, Moving
from planner.solver.bounds.chain import JobChain
from planner.solver.bounds.courses import Courses
from planner.solver.bounds.narrowing import Narrowing
from planner.solver.bounds.price_list import PriceList
from planner.solver.bounds.resources import Resources, resources_of
from planner.solver.bounds.ways import NEVER, Prices, Taking, mask_of
from planner.solver.build import open_starts
from planner.solver.objective import lateness_at, lateness_left_out
from planner.solver.pieces import TyreWork
from planner.solver.rules import ALL
from planner.solver.state import BayState

SCALE = 1 << 10
"""Prices are whole multiples of 1/SCALE of a priority-weighted minute."""
DAY_MINUTES = 24 * 60
FIRST_STRIDE = 140
"""The first stride is the horizon times the grid over this [priority-weighted min for a step]."""
LARGE_JOBS, JOBS_ASKED = 100, 12
"""With more jobs than the first, one step asks so many."""
ROUNDS_BETWEEN_PROOFS = 10
"""How often every job is asked between two steps that ask all at once."""


def parts_of(jobs: int) -> int:
    """In how many parts the jobs are asked."""
    return jobs // JOBS_ASKED if jobs > LARGE_JOBS else 1


@dataclass(frozen=True, kw_only=True)
class PricedJob:
    """A job as the prices see it: its chain if it can be done, the cost of each end and of leaving it out."""

    chain: JobChain | None
    at_end: Prices
    left_out: int

    def least(self) -> tuple[int, list[tuple[int, Taking]]]:
        """Its least price and what that takes."""
        if self.chain is None:
            return self.left_out, []
        price, taken = self.chain.cheapest(self.at_end)
        return (price, taken) if price < self.left_out else (self.left_out, [])


def priced_jobs(resources: Resources, prices: PriceList, flow_weight: int) -> list[PricedJob]:
    """Every free job, ready to be priced."""
    return [_priced(resources, prices, work, flow_weight) for work in resources.state.free]


def _priced(resources: Resources, prices: PriceList, work: TyreWork, flow_weight: int) -> PricedJob:
    def at(end: int) -> int:
        return SCALE * (lateness_at(work.job, end) + flow_weight * end)

    bay = resources.state.bay
    reach = open_starts(resources.state, work, ALL)
    left_out = SCALE * lateness_left_out(bay.problem, work.job)
    ends = np.array([at(bay.grid * step) for step in range(bay.steps + 1)], dtype=np.int64)
    if work.locked:
        end = work.locked[len(work.job.stages) - 1].end if not work.pieces else 0
        return PricedJob(chain=None, at_end=ends, left_out=at(end))
    if reach is None:
        return PricedJob(chain=None, at_end=ends, left_out=left_out)
    return PricedJob(chain=JobChain(resources, prices, work, reach), at_end=ends, left_out=left_out)


class PriceSearch:
    """Better and better prices: each step lets jobs choose anew, then moves the prices along the overrun.

    On a large bay one step asks only one job in `parts`, in turn; the others keep their last choice, which
    is near enough to tell where prices should move. Only a step that asks all jobs proves anything.
    What is bounded is the lateness, and `flow_weight` times the flow with it.
    """

    def __init__(self, state: BayState, *, flow_weight: int = 0) -> None:
        resources = resources_of(state)
        self.state, self._list = state, PriceList(resources)
        self.jobs = priced_jobs(resources, self._list, flow_weight)
        self._capacity = resources.capacity
        self.parts = parts_of(len(self.jobs))
        self._ascent = self._ascent_of(state)
        self._courses = Courses(self.jobs, self._capacity.shape, self._longest())
        self._best: tuple[int, Prices] = (-NEVER, np.zeros(self._capacity.shape, dtype=np.int64))
        self._turn = 0

    def _ascent_of(self, state: BayState) -> Moving:
        problem = state.bay.problem
        if self.parts > 1:
            return DailyAscent(self._capacity.shape, max(1, DAY_MINUTES // problem.grid_minutes))
        return Ascent(self._capacity.shape, stride=problem.horizon_end * problem.grid_minutes / FIRST_STRIDE)

    @property
    def bound(self) -> int:
        """The best proven so far."""
        return max(0, -(-self._best[0] // SCALE))

    def step(self, progress: float) -> None:
        """One step; the moves shrink as `progress` goes from 0 to 1."""
        if self.parts > 1 and self._turn % (ROUNDS_BETWEEN_PROOFS * self.parts):
            self._list.renew(self._prices())
            self._courses.choose(range(self._turn % self.parts, len(self.jobs), self.parts))
        else:
            self.prove()
        self._turn += 1
        self._ascent.move(self._courses.used() - self._capacity, progress)

    def prove(self) -> None:
        """Ask all jobs at the present prices: what these prove, if it is more than before."""
        prices = self._prices()
        self._list.renew(prices)
        least = self._courses.choose(range(len(self.jobs)))
        proven = least - int((prices * self._capacity).sum())
        self._best = max(self._best, (proven, prices), key=lambda found: found[0])

    def _prices(self) -> Prices:
        return np.rint(self._ascent.prices * SCALE).astype(np.int64)

    def narrowing(self, at_most: int) -> Narrowing:
        """What the best prices so far rule out of all plans where what is bounded is that or less."""
        scaled, prices = self._best
        slack = SCALE * at_most - scaled
        self._list.renew(prices)
        must, never, starts = set(), set(), {}
        for job, work in zip(self.jobs, self.state.free, strict=True):
            if job.chain is None:
                continue
            pieces = job.chain.by_start(job.at_end)
            least = int(pieces[0][1].min())
            most = min(least, job.left_out) + slack
            if job.left_out > most:
                must.add(work.job.id)
            if least > most:
                never.add(work.job.id)
            starts[work.job.id] = tuple(mask_of(prices <= most) << first for first, prices in pieces)
        return Narrowing(
            at_most=at_most, bound=self.bound, must=frozenset(must), never=frozenset(never), starts=starts
        )

    def _longest(self) -> int:
        """How far past the horizon a price list is read: by a turnaround, or by the longest shift at most."""
        bay = self.state.bay
        shifts = (window.end - window.start for pool in bay.crews for window in pool.windows)
        return max(*shifts, *(pool.turnaround for pool in bay.sets), 0, 0) + 1
