"""The courses that jobs chose at the prices they last saw, and what all of these take together."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from planner.solver.bounds.ways import Prices, Taking

Chosen = Sequence[tuple[int, Taking]]
"""What a course takes: pairs of a start step and a taking."""


class Chooser(Protocol):
    """A job that chooses its cheapest course at cumulated prices."""

    def least(self, cumulated: Prices) -> tuple[int, list[tuple[int, Taking]]]:
        """Its least price and what that takes."""
        ...


@dataclass(slots=True)
class Courses:
    """Jobs with their last choices; `beyond` is how far past the horizon a taking may reach [steps]."""

    jobs: Sequence[Chooser]
    shape: tuple[int, int]
    beyond: int
    _changes: Prices
    _chosen: list[Chosen]

    @classmethod
    def of(cls, jobs: Sequence[Chooser], shape: tuple[int, int], beyond: int) -> "Courses":
        """Nothing chosen yet."""
        changes = np.zeros((shape[0], shape[1] + beyond + 1), dtype=np.int64)
        return cls(jobs, shape, beyond, changes, [()] * len(jobs))

    def choose(self, numbers: Iterable[int], prices: Prices) -> int:
        """Let these jobs choose anew; the sum of their least prices."""
        cumulated, total = cumulated_prices(prices, self.beyond), 0
        for number in numbers:
            self._count(self._chosen[number], -1)
            least, self._chosen[number] = self.jobs[number].least(cumulated)
            self._count(self._chosen[number], 1)
            total += least
        return total

    def _count(self, chosen: Chosen, sign: int) -> None:
        for start, taking in chosen:
            self._changes[taking.row, start + taking.first] += sign * taking.amount
            self._changes[taking.row, start + taking.last] -= sign * taking.amount

    def used(self) -> Prices:
        """What all choices together take, by row and step."""
        used: Prices = self._changes.cumsum(axis=1)[:, : self.shape[1]]
        return used


def cumulated_prices(prices: Prices, beyond: int) -> Prices:
    """Sums of the prices before each step, by row; flat past the horizon."""
    table = np.zeros((prices.shape[0], prices.shape[1] + beyond + 1), dtype=np.int64)
    np.cumsum(prices, axis=1, out=table[:, 1 : prices.shape[1] + 1])
    table[:, prices.shape[1] + 1 :] = table[:, prices.shape[1] : prices.shape[1] + 1]
    return table
