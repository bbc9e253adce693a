"""When a crew can do a piece of work, and how long its breaks make it last [steps]."""

from collections import Counter
from collections.abc import Iterator
from itertools import product

from planner.solver.crews import Crew, CrewPool, ShiftWindow, merged
from planner.solver.masks import Mask, room_for, stretch


class CrewCalendar:
    """Start steps by elapsed length for every crew and work length, each worked out once."""

    def __init__(self, pools: tuple[CrewPool, ...]) -> None:
        self._pools = pools
        self._known: dict[tuple[Crew, int, bool], dict[int, Mask]] = {}

    def starts(self, crew: Crew, work: int, *, pausable: bool) -> dict[int, Mask]:
        """Elapsed length of the stage → the steps at which the crew may start it [steps]."""
        key = (crew, work, pausable)
        if key not in self._known:
            self._known[key] = self._starts(crew, work, pausable)
        return self._known[key]

    def _starts(self, crew: Crew, work: int, pausable: bool) -> dict[int, Mask]:
        found: dict[int, Mask] = {}
        for start, end, breaks in self._common_windows(crew):
            for elapsed, mask in _fits(start, end, breaks, work, pausable):
                found[elapsed] = found.get(elapsed, 0) | mask
        return {elapsed: mask for elapsed, mask in sorted(found.items()) if mask}

    def _common_windows(self, crew: Crew) -> Iterator[tuple[int, int, tuple[tuple[int, int], ...]]]:
        for windows in product(
            *(self._wide_enough(pool, size) for pool, size in Counter(crew.pools).items())
        ):
            start, end = max(one.start for one in windows), min(one.end for one in windows)
            if start < end:
                yield start, end, _breaks(windows, start, end)

    def _wide_enough(self, pool: int, size: int) -> list[ShiftWindow]:
        return [window for window in self._pools[pool].windows if len(window.technicians) >= size]


def _breaks(windows: tuple[ShiftWindow, ...], start: int, end: int) -> tuple[tuple[int, int], ...]:
    breaks = (pause for window in windows for pause in window.breaks)
    return merged(
        (max(first, start), min(last, end)) for first, last in breaks if first < end and start < last
    )


def _fits(
    start: int, end: int, breaks: tuple[tuple[int, int], ...], work: int, pausable: bool
) -> Iterator[tuple[int, Mask]]:
    """Elapsed lengths and starts in one window; a paused stage spans one break or several in a row."""
    at_work = stretch(start, end)
    for first, last in breaks:
        at_work &= ~stretch(first, last)
    yield work, room_for(at_work, work)
    if not pausable:
        return
    for i, opening in enumerate(breaks):
        after_last = breaks[i - 1][1] if i else start
        elapsed = work
        for j in range(i, len(breaks)):
            elapsed += breaks[j][1] - breaks[j][0]
            before_next = breaks[j + 1][0] if j + 1 < len(breaks) else end
            earliest = max(after_last, breaks[j][1] + 1 - elapsed)
            latest = min(opening[0] - 1, before_next - elapsed)
            yield elapsed, stretch(earliest, latest + 1)
