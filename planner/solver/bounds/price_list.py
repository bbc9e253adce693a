"""What everything that is asked costs at every start, worked out once for all jobs that ask the same.

Jobs differ in little: many stages last equally long and want the same skill. So each way to have a thing,
and each length of each row, is priced once for the prices at hand, and only when somebody asks.
"""

from collections.abc import Sequence

import numpy as np

from planner.solver.bounds.resources import Resources
from planner.solver.bounds.ways import NEVER, Prices, Taking, Thing, Way, flags
from planner.solver.masks import Mask


class PriceList:
    """Prices that can be renewed, with all that follows from them, by start step from 0 on."""

    def __init__(self, resources: Resources) -> None:
        self.steps, self.turn = resources.steps, 0
        self._whole = resources.state.bay.whole
        self._table = np.zeros((resources.rows.count, self.steps + 1), dtype=np.int64)
        self._spans: dict[tuple[int, int, int], PricedSpan] = {}
        self._ways: dict[Way, PricedWay] = {}
        self._asks: dict[tuple[Way, ...], PricedAsk] = {}
        self._closed: dict[Mask, Prices] = {}

    def renew(self, prices: Prices) -> None:
        """Charge these prices from now on; past the horizon everything is free."""
        np.cumsum(prices, axis=1, out=self._table[:, 1 : prices.shape[1] + 1])
        self._table[:, prices.shape[1] + 1 :] = self._table[:, prices.shape[1] : prices.shape[1] + 1]
        self.turn += 1

    def sums(self, row: int) -> Prices:
        """The sum of the row's prices before each step, as far as anybody asks."""
        sums: Prices = self._table[row]
        return sums

    def before(self, row: int) -> Prices:
        """The same, up to the end of the horizon."""
        return self.sums(row)[: self.steps + 1]

    def _reach(self, last: int) -> None:
        """Hold sums of prices for so many steps past the last start."""
        more = self.steps + last + 1 - self._table.shape[1]
        if more > 0:
            self._table = np.pad(self._table, ((0, 0), (0, more)), mode="edge")

    def ask(self, thing: Thing) -> "PricedAsk":
        """The thing's entry."""
        if thing.ways not in self._asks:
            self._asks[thing.ways] = PricedAsk(self, tuple(self._way(way) for way in thing.ways))
        return self._asks[thing.ways]

    def _way(self, way: Way) -> "PricedWay":
        if way not in self._ways:
            parts = tuple((self._span(taking), taking.first) for taking in way.takings)
            self._ways[way] = PricedWay(self, way, parts, self._closed_at(way.starts))
        return self._ways[way]

    def _span(self, taking: Taking) -> "PricedSpan":
        key = (taking.row, taking.last - taking.first, taking.amount)
        if key not in self._spans:
            self._spans[key] = PricedSpan(self, *key)
        self._reach(taking.last)
        return self._spans[key]

    def _closed_at(self, starts: Mask) -> Prices | None:
        """What it costs more at each start for being closed there."""
        if starts & self._whole == self._whole:
            return None
        if starts not in self._closed:
            self._closed[starts] = np.where(flags(starts, 0, self.steps), 0, NEVER)
        return self._closed[starts]


class PricedSpan:
    """So much of one row for so many steps."""

    def __init__(self, prices: PriceList, row: int, length: int, amount: int) -> None:
        self._list, self._row, self._length, self._amount = prices, row, length, amount
        self._turn, self._at = -1, np.zeros(0, dtype=np.int64)

    def prices(self) -> Prices:
        """The price from every step on."""
        if self._turn != self._list.turn:
            sums = self._list.sums(self._row)
            self._at = sums[self._length :] - sums[: len(sums) - self._length]
            if self._amount != 1:
                self._at *= self._amount
            self._turn = self._list.turn
        return self._at


class PricedWay:
    """One way to have a thing."""

    def __init__(
        self,
        prices: PriceList,
        way: Way,
        parts: Sequence[tuple[PricedSpan, int]],
        closed: Prices | None,
    ) -> None:
        self.way, self._list = way, prices
        self._parts, self._closed = parts, closed
        self._turn, self._at = -1, np.zeros(0, dtype=np.int64)

    def prices(self) -> Prices:
        """The price at every start, `NEVER` more where the way is closed."""
        if self._turn != self._list.turn:
            steps, (span, first) = self._list.steps, self._parts[0]
            total = span.prices()[first : first + steps]
            for span, first in self._parts[1:]:
                total = total + span.prices()[first : first + steps]
            self._at = total if self._closed is None else total + self._closed
            self._turn = self._list.turn
        return self._at


class PricedAsk:
    """One thing that jobs ask."""

    def __init__(self, prices: PriceList, ways: Sequence[PricedWay]) -> None:
        self._list, self._ways = prices, ways
        self._turn, self._at = -1, np.full(prices.steps, NEVER, dtype=np.int64)

    def prices(self) -> Prices:
        """The price of the cheapest way at every start."""
        if self._turn != self._list.turn and self._ways:
            least = self._ways[0].prices()
            for way in self._ways[1:]:
                least = np.minimum(least, way.prices())
            self._at, self._turn = least, self._list.turn
        return self._at

    def way_at(self, start: int) -> Way:
        """The cheapest way at one start."""
        prices = [int(way.prices()[start]) for way in self._ways]
        return self._ways[prices.index(min(prices))].way
