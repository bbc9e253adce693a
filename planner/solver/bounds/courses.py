"""The courses that jobs chose at the prices they last saw, and what all of these take together."""

from collections.abc import Iterable, Sequence
from typing import Protocol

import numpy as np

from planner.solver.bounds.ways import Prices, Taking

Chosen = Sequence[tuple[int, Taking]]
"""What a course takes: pairs of a start step and a taking."""


Changes = tuple[list[int], list[int]]
"""Cells of the table of changes, flattened, and what each changes by."""


class Chooser(Protocol):
    """A job that chooses its cheapest course at the prices of its list."""

    def least(self) -> tuple[int, list[tuple[int, Taking]]]:
        """Its least price and what that takes."""
        ...


class Courses:
    """Jobs with their last choices; `beyond` is how far past the horizon a taking may reach [steps]."""

    def __init__(self, jobs: Sequence[Chooser], shape: tuple[int, int], beyond: int) -> None:
        self._jobs, self._shape = jobs, shape
        self._changes = np.zeros((shape[0], shape[1] + beyond + 1), dtype=np.int64)
        self._chosen: list[Changes] = [([], [])] * len(jobs)

    def choose(self, numbers: Iterable[int]) -> int:
        """Let these jobs choose anew, each at the prices of its list; the sum of their least prices."""
        cells: list[int] = []
        amounts: list[int] = []
        total = 0
        for number in numbers:
            left_cells, left = self._chosen[number]
            least, course = self._jobs[number].least()
            found_cells, found = self._chosen[number] = self._changes_of(course)
            cells += left_cells + found_cells
            amounts += [-amount for amount in left] + found
            total += least
        np.add.at(self._changes.reshape(-1), cells, amounts)
        return total

    def _changes_of(self, course: Chosen) -> Changes:
        """Where the table of changes has to change for a course, and by how much."""
        width = self._changes.shape[1]
        cells: list[int] = []
        amounts: list[int] = []
        for start, taking in course:
            first = taking.row * width + start
            cells += (first + taking.first, first + taking.last)
            amounts += (taking.amount, -taking.amount)
        return cells, amounts

    def used(self) -> Prices:
        """What all choices together take, by row and step."""
        used: Prices = self._changes.cumsum(axis=1)[:, : self._shape[1]]
        return used
