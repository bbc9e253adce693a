"""What a search may still spend: work, which its answer may depend on, and seconds, which only end it."""

from dataclasses import replace
from time import monotonic

from planner.domain.progress import StopSignal
from planner.solver.limits import SolveLimits

ASK_SECONDS = 0.2
"""How long the wish to stop may go unnoticed; asking may cost a look into a database."""


class Budget:
    """The limits of one search with what is gone of them."""

    def __init__(self, limits: SolveLimits, stop: StopSignal | None) -> None:
        self.limits = limits
        self.work_gone = 0.0
        self._stop = stop
        self._begun = self._asked = monotonic()
        self._stopped = False

    def share(self, part: float, most_work: float | None = None) -> "Budget":
        """A budget of `part` of the work that is left, or of the seconds where work has no limit.

        With `most_work` it is never more work than that, and as many seconds as there are.
        Beside a limit of work the seconds stay whole: how they are shared out must not steer the search.
        """
        seconds, work = self.seconds_left(), self.work_left_or_none()
        if most_work is not None:
            work_share = most_work if work is None else min(most_work, part * work)
            limits = replace(self.limits, seconds=seconds, work=work_share)
        elif work is not None:
            limits = replace(self.limits, seconds=seconds, work=part * work)
        else:
            limits = replace(self.limits, seconds=None if seconds is None else part * seconds)
        return Budget(limits, self._stop)

    def seconds_gone(self) -> float:
        """Since the search began [s]."""
        return monotonic() - self._begun

    def seconds_left(self) -> float | None:
        """None where there is no limit [s]."""
        return None if self.limits.seconds is None else max(0.0, self.limits.seconds - self.seconds_gone())

    def part_of_seconds_gone(self) -> float | None:
        """From 0 to 1; None where work steers the search, or nothing ends it."""
        if self.limits.work is not None or not self.limits.seconds:
            return None
        return min(1.0, self.seconds_gone() / self.limits.seconds)

    def work_left(self) -> float:
        """Work that is left, without end where there is no limit."""
        left = self.work_left_or_none()
        return 1e9 if left is None else left

    def work_left_or_none(self) -> float | None:
        """Work that is left; None where there is no limit."""
        return None if self.limits.work is None else max(0.0, self.limits.work - self.work_gone)

    def work_done(self, work: float) -> None:
        """Count work."""
        self.work_gone += work

    def is_stopped(self) -> bool:
        """Whether somebody wished to stop."""
        now = monotonic()
        if not self._stopped and self._stop is not None and now - self._asked >= ASK_SECONDS:
            self._asked = now
            self._stopped = self._stop()
        return self._stopped

    def is_spent(self) -> bool:
        """Whether the search has to end."""
        return self.seconds_left() == 0.0 or self.work_left_or_none() == 0.0 or self.is_stopped()
