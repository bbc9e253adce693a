"""What one piece of work costs at every start, at given prices for the bay's resources."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from planner.solver.bounds.resources import Resources
from planner.solver.bounds.ways import NEVER, Flags, Prices, Taking, Way, flags, things_asked
from planner.solver.masks import first_of, last_of
from planner.solver.pieces import TyreWork
from planner.solver.reach import PieceStarts


@dataclass(frozen=True, kw_only=True)
class OpenWay:
    """A way and the flags of the piece's starts at which it is closed."""

    way: Way
    closed: Flags


class PricedPiece:
    """One piece with its price at every start."""

    def __init__(self, resources: Resources, work: TyreWork, entry: PieceStarts) -> None:
        self.first, self.last = first_of(entry.starts), last_of(entry.starts) + 1
        self._closed = ~flags(entry.starts, self.first, self.last)
        asked = things_asked(resources, work, entry.piece)
        self._things = [[self._open(way) for way in ways if way.starts & entry.starts] for ways in asked]
        self.pausable, self.work = entry.piece.pausable, entry.piece.work

    def _open(self, way: Way) -> OpenWay:
        return OpenWay(way=way, closed=~flags(way.starts, self.first, self.last))

    def prices_by_length(self, cumulated: Prices) -> Iterator[tuple[int, Prices]]:
        """Elapsed length → price at every start from `first`; one length unless the piece may pause."""
        if not self.pausable:
            yield self.work, self._total(cumulated)
            return
        ways = self._things[0]
        for elapsed in sorted({entry.way.elapsed for entry in ways}):
            cheapest = self._cheapest([entry for entry in ways if entry.way.elapsed == elapsed], cumulated)
            cheapest[self._closed] = NEVER
            yield elapsed, cheapest

    def _total(self, cumulated: Prices) -> Prices:
        total = np.zeros(self.last - self.first, dtype=np.int64)
        for ways in self._things:
            total += self._cheapest(ways, cumulated)
        total[self._closed] = NEVER
        return np.minimum(total, NEVER)

    def _cheapest(self, ways: Sequence[OpenWay], cumulated: Prices) -> Prices:
        if not ways:
            return np.full(self.last - self.first, NEVER, dtype=np.int64)
        best = self._price(ways[0], cumulated)
        for entry in ways[1:]:
            np.minimum(best, self._price(entry, cumulated), out=best)
        return best

    def _price(self, entry: OpenWay, cumulated: Prices) -> Prices:
        # This is where a bound spends its time: no array more than it takes.
        taken = (self._price_taken(taking, cumulated) for taking in entry.way.takings)
        total = next(taken, None)
        if total is None:
            total = np.zeros(self.last - self.first, dtype=np.int64)
        for more in taken:
            total += more
        np.copyto(total, NEVER, where=entry.closed)
        return total

    def _price_taken(self, taking: Taking, cumulated: Prices) -> Prices:
        row = cumulated[taking.row]
        price: Prices = (
            row[self.first + taking.last : self.last + taking.last]
            - row[self.first + taking.first : self.last + taking.first]
        )
        if taking.amount != 1:
            price *= taking.amount
        return price

    def taken_at(self, start: int, elapsed: int, cumulated: Prices) -> Iterator[Taking]:
        """What the cheapest ways take when the piece starts at that step."""
        for ways in self._things:
            able = [
                entry.way
                for entry in ways
                if not entry.closed[start - self.first]
                and (not self.pausable or entry.way.elapsed == elapsed)
            ]
            best = min(able, key=lambda way: price_at(way, start, cumulated))
            yield from best.takings


def price_at(way: Way, start: int, cumulated: Prices) -> int:
    """What a way costs at one start."""
    return sum(
        taking.amount
        * int(cumulated[taking.row][start + taking.last] - cumulated[taking.row][start + taking.first])
        for taking in way.takings
    )
