"""How much worse a plan may get on the way: by the work done, never by the clock."""

from dataclasses import dataclass
from math import exp, log

from planner.scheduling.dispatch.bay import Bay
from planner.solver.limits import SolveLimits

INSERTIONS_PER_WORK = 2500
"""One unit of work: about what one worker tries in a second on a bay of a week."""

SHARES = (0.45, 0.25, 0.2, 0.1)
"""The parts of the expected work in which it cools once; each starts cooler than the one before."""


@dataclass(frozen=True, slots=True)
class Cooling:
    """Falls from `hot` to `cold` [priority-weighted min], again and again, over `length` insertions."""

    hot: float
    cold: float
    length: int

    def cycle(self, insertions: int) -> int:
        """How many times it has fallen to the end after so many insertions."""
        gone, number = insertions / self.length, 0
        while gone >= SHARES[min(number, len(SHARES) - 1)]:
            gone -= SHARES[min(number, len(SHARES) - 1)]
            number += 1
        return number

    def at(self, insertions: int) -> float:
        """The temperature after so many insertions."""
        gone, number = insertions / self.length, 0
        while gone >= SHARES[min(number, len(SHARES) - 1)]:
            gone -= SHARES[min(number, len(SHARES) - 1)]
            number += 1
        hot = max(self.hot / (1 + 2 * number), self.cold)
        return hot * exp(gone / SHARES[min(number, len(SHARES) - 1)] * log(self.cold / hot))


def cooling_of(bay: Bay, limits: SolveLimits) -> Cooling:
    """The cooling for a bay, by the limit of work or, if there is none, by what the seconds should allow."""
    priorities = [job.priority for job in bay.jobs]
    usual = sum(priorities) / max(1, len(priorities))
    work = limits.work if limits.work is not None else (limits.seconds or 30.0) * limits.workers
    length = max(1000, int(work * INSERTIONS_PER_WORK / limits.workers))
    return Cooling(hot=600 * usual, cold=15 * usual, length=length)
