"""How much worse a plan may get on the way: by the work done, never by the clock."""

from dataclasses import dataclass, replace
from math import exp, log

from planner.scheduling.dispatch.bay import Bay
from planner.solver.limits import SolveLimits

INSERTIONS_PER_WORK = 2500
"""One unit of work: about what one worker tries in a second on a bay of a week."""

SHORTEST = 1000
"""No cooling lasts for fewer insertions than that."""
SHARES = (0.45, 0.25, 0.2, 0.1)
"""The parts of the expected work in which it cools once; each starts cooler than the one before."""


HOT_LATENESS, COLD_LATENESS = 1300, 40
"""The hottest and the coldest, for a job of usual priority [min late]."""
HOT_FLOW, COLD_FLOW = 30, 3
"""The same once all is in time and only flow is left to win [min]."""


@dataclass(frozen=True, slots=True)
class Cooling:
    """Cools again and again, each time from less; `usual` is the mean priority of the jobs."""

    usual: float
    length: int

    def lasting(self, insertions: float) -> "Cooling":
        """The same for another length."""
        return replace(self, length=max(SHORTEST, int(insertions)))

    def cycle(self, insertions: int) -> int:
        """How many times it has cooled to the end after so many insertions."""
        return self._place(insertions)[0]

    def at(self, insertions: int, *, in_time: bool) -> float:
        """How much worse a plan may get after so many insertions [priority-weighted min], as a mean."""
        number, gone = self._place(insertions)
        hot, cold = (
            (HOT_FLOW, COLD_FLOW) if in_time else (HOT_LATENESS * self.usual, COLD_LATENESS * self.usual)
        )
        start = max(hot / (1 + 2 * number), cold)
        return start * exp(gone * log(cold / start))

    def _place(self, insertions: int) -> tuple[int, float]:
        """The number of the cycle and the part of it that is gone."""
        left, number = insertions / self.length, 0
        while left >= (share := SHARES[min(number, len(SHARES) - 1)]):
            left -= share
            number += 1
        return number, left / share


def cooling_of(bay: Bay, limits: SolveLimits) -> Cooling:
    """The cooling for a bay, by the limit of work or by a guess at what the seconds allow."""
    priorities = [job.priority for job in bay.jobs]
    usual = sum(priorities) / max(1, len(priorities))
    work = limits.work if limits.work is not None else (limits.seconds or 30.0) * limits.workers
    return Cooling(usual=usual, length=max(SHORTEST, int(work * INSERTIONS_PER_WORK / limits.workers)))
