"""Beside a search that nobody follows: only whether somebody wants it to stop."""

from collections.abc import Callable

from planner.services.side_watch import SideWatch

_PERIOD_SECONDS = 0.5


class CancelWatch(SideWatch):
    """Asks `is_cancelled` twice a second."""

    def __init__(self, is_cancelled: Callable[[], bool]) -> None:
        super().__init__("cancel watch")
        self._is_cancelled = is_cancelled

    def _watch(self) -> None:
        while not self._over.wait(_PERIOD_SECONDS):
            if self._is_cancelled():
                self._stop.set()
                return
