"""How much of something is left at every step, after what is closed and what held work takes."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from planner.solver.masks import Mask, union

Use = tuple[int, int, int]
"""Start and end in minutes, and how much is taken."""


@dataclass(frozen=True, slots=True)
class Room:
    """What is left, as stretches of steps that follow one another: (first, last, left)."""

    stretches: tuple[tuple[int, int, int], ...]
    _known: dict[int, Mask] = field(default_factory=dict, compare=False, repr=False)

    @property
    def most(self) -> int:
        """The greatest amount left at any step."""
        return max((left for _, _, left in self.stretches), default=0)

    @property
    def least(self) -> int:
        """The smallest amount left at any step."""
        return min((left for _, _, left in self.stretches), default=0)

    def at_least(self, amount: int) -> Mask:
        """The steps with that much left; each amount is worked out once."""
        if amount not in self._known:
            self._known[amount] = union(
                (first, last) for first, last, left in self.stretches if left >= amount
            )
        return self._known[amount]

    def shortfalls(self) -> list[tuple[int, int, int]]:
        """Where less than the most is left, and how much less; what a cumulative must fill."""
        most = self.most
        return [(first, last, most - left) for first, last, left in self.stretches if left < most]


def room(steps: int, supply: Iterable[tuple[int, int, int]], uses: Iterable[Use], grid: int) -> Room:
    """What the supply (stretches of steps and amounts, added up) leaves after the uses; at least nothing.

    Uses may lie off the grid: a step counts with the most that is taken at any minute of it.
    """
    left = [0] * steps
    for first, last, amount in supply:
        for step in range(max(first, 0), min(last, steps)):
            left[step] += amount
    for step, taken in _taken(steps, uses, grid).items():
        left[step] = max(left[step] - taken, 0)
    return Room(tuple(_stretches(left)))


def _taken(steps: int, uses: Iterable[Use], grid: int) -> dict[int, int]:
    changes: dict[int, int] = {}
    for start, end, amount in uses:
        changes[start] = changes.get(start, 0) + amount
        changes[end] = changes.get(end, 0) - amount
    taken: dict[int, int] = {}
    level, moments = 0, sorted(changes)
    for moment, following in zip(moments, [*moments[1:], *moments[-1:]], strict=True):
        level += changes[moment]
        for step in range(max(moment // grid, 0), min(-(-following // grid), steps)) if level else ():
            taken[step] = max(taken.get(step, 0), level)
    return taken


def _stretches(left: list[int]) -> Iterable[tuple[int, int, int]]:
    first = 0
    for step in range(1, len(left) + 1):
        if step == len(left) or left[step] != left[first]:
            yield first, step, left[first]
            first = step
