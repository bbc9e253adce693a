"""What one piece of work costs at every start, at the prices of a list."""

from collections.abc import Iterator

import numpy as np

from planner.solver.bounds.price_list import PricedAsk, PriceList
from planner.solver.bounds.resources import Resources
from planner.solver.bounds.ways import NEVER, Prices, Taking, Thing, flags, paused_ways, things_asked
from planner.solver.masks import first_of, last_of
from planner.solver.pieces import TyreWork
from planner.solver.reach import PieceStarts

Asked = tuple[PricedAsk, int]
"""What is asked, and how long after the start of the piece [steps]."""


class PricedPiece:
    """One piece with its price at every start from `first` up to, not including, `last`."""

    def __init__(self, resources: Resources, prices: PriceList, work: TyreWork, entry: PieceStarts) -> None:
        self.first, self.last = first_of(entry.starts), last_of(entry.starts) + 1
        self.closed = np.where(flags(entry.starts, self.first, self.last), 0, NEVER)
        if entry.piece.pausable:
            ways = [[thing] for thing in paused_ways(resources, entry.piece)]
        else:
            ways = [things_asked(resources, work, entry.piece)]
        self._asked = {
            things[0].elapsed if things else entry.piece.work: [_asked(prices, thing) for thing in things]
            for things in ways
        }

    def prices_by_length(self) -> Iterator[tuple[int, Prices]]:
        """Elapsed length → price at every start, `closed` left aside; one length unless it may pause."""
        for elapsed, asked in self._asked.items():
            parts = [ask.prices()[self.first + offset : self.last + offset] for ask, offset in asked]
            yield elapsed, sum(parts[1:], parts[0]) if parts else np.zeros_like(self.closed)

    def taken_at(self, start: int, elapsed: int) -> Iterator[tuple[int, Taking]]:
        """What the cheapest ways take when the piece starts at that step: from where, and what."""
        for ask, offset in self._asked[elapsed]:
            for taking in ask.way_at(start + offset).takings:
                yield start + offset, taking


def _asked(prices: PriceList, thing: Thing) -> Asked:
    return prices.ask(thing), thing.offset
