"""How prices move: each by its own recent overruns, in strides that shrink (the rule known as Adam).

Kingma and Ba, "Adam: a method for stochastic optimization", 2015, algorithm 1; here it climbs. Any
prices give a valid bound, so this file decides only how good the bound becomes.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Table = NDArray[np.float64]

LAST_STRIDE = 0.002
"""The last stride as a share of the first."""
DAILY_SHARE = 0.4
"""How much of a long ascent moves the prices of all days together."""
DAILY_STRIDE, EACH_STRIDE = 150.0, 2.0
"""Its first strides, while days move together and after that [priority-weighted min for a step]."""


@dataclass(frozen=True, slots=True)
class Memory:
    """How much of what was is kept at each move: of the mean overrun, and of its mean square."""

    mean: float
    square: float


LONG, SHORT = Memory(0.92, 0.98), Memory(0.8, 0.99)
"""For moves that hear of every job, and for those that hear of a few at a time."""


class Moving(Protocol):
    """Prices that move along the overruns."""

    @property
    def prices(self) -> Table:
        """The prices by row and step."""
        ...

    def move(self, overrun: NDArray[np.int64], progress: float) -> None:
        """Raise what is overrun and lower what lies idle, as `progress` goes from 0 to 1."""
        ...


class Ascent:
    """Prices, never negative, with the memory of their moves."""

    def __init__(self, shape: tuple[int, ...], stride: float, memory: Memory = LONG) -> None:
        self._prices: Table = np.zeros(shape)
        self._mean: Table = np.zeros(shape)
        self._square: Table = np.zeros(shape)
        self._stride, self._memory, self._steps = stride, memory, 0

    @property
    def prices(self) -> Table:
        """The prices."""
        return self._prices

    def start_from(self, prices: Table) -> None:
        """Go on from these prices."""
        self._prices = prices.copy()

    def move(self, overrun: NDArray[np.int64], progress: float) -> None:
        """Raise what is overrun and lower what lies idle; idle supply that costs nothing stays free."""
        slope = np.where((self._prices > 0) | (overrun > 0), overrun, 0).astype(np.float64)
        self._steps += 1
        kept = self._memory
        self._mean = kept.mean * self._mean + (1 - kept.mean) * slope
        self._square = kept.square * self._square + (1 - kept.square) * slope * slope
        mean = self._mean / (1 - kept.mean**self._steps)
        square = self._square / (1 - kept.square**self._steps)
        stride = self._stride * LAST_STRIDE ** min(progress, 1.0)
        self._prices = np.maximum(self._prices + stride * mean / (np.sqrt(square) + 1e-3), 0.0)


class DailyAscent:
    """First all days have the same prices, by the time of day, and move together; then each step its own.

    The days of a long horizon are much alike: what is learned on one holds, nearly, for all, in a
    tenth of the steps. Where they are not alike the second part puts it right.
    """

    def __init__(self, shape: tuple[int, int], steps_a_day: int) -> None:
        rows, self._steps = shape
        self._days = -(-self._steps // steps_a_day)
        self._day = Ascent((rows, steps_a_day), DAILY_STRIDE, SHORT)
        self._each = Ascent(shape, EACH_STRIDE, SHORT)
        self._together = True

    @property
    def prices(self) -> Table:
        """The prices by row and step."""
        return self._spread() if self._together else self._each.prices

    def _spread(self) -> Table:
        return np.tile(self._day.prices, (1, self._days))[:, : self._steps]

    def move(self, overrun: NDArray[np.int64], progress: float) -> None:
        """Raise what is overrun and lower what lies idle, first summed over the days."""
        if self._together and progress >= DAILY_SHARE:
            self._each.start_from(self._spread())
            self._together = False
        if not self._together:
            self._each.move(overrun, (progress - DAILY_SHARE) / (1 - DAILY_SHARE))
            return
        rows, day = self._day.prices.shape
        whole = np.zeros((rows, self._days * day), dtype=np.int64)
        whole[:, : self._steps] = overrun
        self._day.move(whole.reshape(rows, self._days, day).sum(axis=1), progress / DAILY_SHARE)
