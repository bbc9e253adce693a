"""How prices move: each by its own recent overruns, in strides that shrink (the rule known as Adam).

Kingma and Ba, "Adam: a method for stochastic optimization", 2015, algorithm 1; here it climbs. Any
prices give a valid bound, so this file decides only how good the bound becomes.
"""

import numpy as np
from numpy.typing import NDArray

Table = NDArray[np.float64]

MEAN_KEPT = 0.8
SQUARE_KEPT = 0.99
LAST_STRIDE = 0.003
"""The last stride as a share of the first."""


class Ascent:
    """Prices, never negative, with the memory of their moves."""

    def __init__(self, shape: tuple[int, ...], stride: float) -> None:
        self.prices: Table = np.zeros(shape)
        self._mean: Table = np.zeros(shape)
        self._square: Table = np.zeros(shape)
        self._stride, self._steps = stride, 0

    def move(self, overrun: NDArray[np.int64], progress: float) -> None:
        """Raise what is overrun and lower what lies idle; idle supply that costs nothing stays free."""
        slope = np.where((self.prices > 0) | (overrun > 0), overrun, 0).astype(np.float64)
        self._steps += 1
        self._mean = MEAN_KEPT * self._mean + (1 - MEAN_KEPT) * slope
        self._square = SQUARE_KEPT * self._square + (1 - SQUARE_KEPT) * slope * slope
        mean = self._mean / (1 - MEAN_KEPT**self._steps)
        square = self._square / (1 - SQUARE_KEPT**self._steps)
        stride = self._stride * LAST_STRIDE ** min(progress, 1.0)
        self.prices = np.maximum(self.prices + stride * mean / (np.sqrt(square) + 1e-3), 0.0)
