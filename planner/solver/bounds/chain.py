"""The cheapest way to do one job at given prices, by dynamic programming along its chain of pieces.

Exact for a job by itself: calendars, crews, breaks, waits, places and closures are kept; only what the
job shares with others is paid for instead.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planner.solver.bounds.price_list import PriceList
from planner.solver.bounds.priced_piece import PricedPiece
from planner.solver.bounds.resources import Resources
from planner.solver.bounds.ways import NEVER, Prices, Taking
from planner.solver.choices import position_choices
from planner.solver.pieces import TyreWork, Wait
from planner.solver.reach import PieceStarts

ByLength = Mapping[int, Prices]
"""How long a piece lasts → its price at every start from its first on."""


@dataclass(frozen=True, kw_only=True)
class Leg:
    """Pieces that hold one position together, and the rows it may come from; or one piece without."""

    pieces: tuple[PricedPiece, ...]
    before: tuple[Wait | None, ...]
    rows: tuple[int | None, ...]


@dataclass(frozen=True, kw_only=True)
class Walk:
    """One pass through a leg: the price of being ready for each piece, and of having ended it."""

    row: int | None
    ready: tuple[Prices, ...]
    ended: tuple[Prices, ...]


@dataclass(frozen=True, kw_only=True)
class Passed:
    """A leg with its pieces' prices, the passes through it, and the least price of having ended it."""

    leg: Leg
    priced: tuple[ByLength, ...]
    walks: tuple[Walk, ...]
    ended: Prices


class JobChain:
    """One unlocked job, priced as a whole."""

    def __init__(
        self, resources: Resources, prices: PriceList, work: TyreWork, reach: Sequence[PieceStarts]
    ) -> None:
        self._prices = prices
        self._legs = tuple(_legs(resources, prices, work, reach))

    def cheapest(self, at_end: Prices) -> tuple[int, list[tuple[int, Taking]]]:
        """The least price of doing the job, `at_end` included, and what that takes (start step, taking)."""
        passed = self._passed()
        total = passed[-1].ended + at_end
        end = int(total.argmin())
        return int(total[end]), list(_taken(passed, end))

    def by_start(self, at_end: Prices) -> list[tuple[int, Prices]]:
        """For each piece the least price of a whole course, `at_end` included, by when the piece starts.

        Pairs of the piece's first start and the prices from there on, in the order of the pieces.
        """
        after, found = at_end, []
        for passed in reversed(self._passed()):
            leg, ways = passed.leg, [(walk, self._back(passed, walk, after)) for walk in passed.walks]
            for index in reversed(range(len(leg.pieces))):
                whole = [walk.ready[index] + back[index] for walk, back in ways]
                found.append((leg.pieces[index].first, np.minimum.reduce(whole)))
            entered = [self._entering(leg, walk.row, back[0]) for walk, back in ways]
            after = self._before(leg.pieces[0], leg.before[0], np.minimum.reduce(entered))
        return found[::-1]

    def _back(self, passed: Passed, walk: Walk, after: Prices) -> list[Prices]:
        """The least price from the start of each piece of the leg to the end, by that start."""
        leg, row, found = passed.leg, walk.row, []
        ended = after if row is None else after + self._prices.before(row)
        for index in reversed(range(len(leg.pieces))):
            piece = leg.pieces[index]
            started = _to_go(piece, passed.priced[index], ended)
            found.append(started)
            if index:
                ended = self._before(piece, leg.before[index], started + piece.closed)
        return found[::-1]

    def _entering(self, leg: Leg, row: int | None, started: Prices) -> Prices:
        """The price from the start of a leg on, what its position costs included."""
        piece = leg.pieces[0]
        entering = started + piece.closed
        return entering if row is None else entering - self._prices.before(row)[piece.first : piece.last]

    def _before(self, piece: PricedPiece, wait: Wait | None, started: Prices) -> Prices:
        """The least price from each end of what comes before a piece, from that of starting the piece."""
        starts = np.full(self._prices.steps + 1, NEVER, dtype=np.int64)
        starts[piece.first : piece.last] = started
        return starts if wait is None else after_wait(starts[::-1], wait)[::-1]

    def _passed(self) -> list[Passed]:
        passed, arrived = [], np.zeros(self._prices.steps + 1, dtype=np.int64)
        for leg in self._legs:
            passed.append(self._through(leg, arrived))
            arrived = passed[-1].ended
        return passed

    def _through(self, leg: Leg, arrived: Prices) -> Passed:
        priced = tuple(dict(piece.prices_by_length()) for piece in leg.pieces)
        walks = tuple(self._walk(leg, row, priced, arrived) for row in leg.rows)
        ended = walks[0].ended[-1]
        for walk in walks[1:]:
            ended = np.minimum(ended, walk.ended[-1])
        return Passed(leg=leg, priced=priced, walks=walks, ended=ended)

    def _walk(self, leg: Leg, row: int | None, priced: Sequence[ByLength], arrived: Prices) -> Walk:
        readies, ended = [], []
        for index, piece in enumerate(leg.pieces):
            wait = leg.before[index]
            ready = arrived if wait is None else after_wait(arrived, wait)
            ready = ready[piece.first : piece.last] + piece.closed
            if row is not None and not index:
                ready -= self._prices.before(row)[piece.first : piece.last]
            readies.append(ready)
            arrived = self._ends(piece, priced[index], ready)
            if row is not None and index == len(leg.pieces) - 1:
                arrived += self._prices.before(row)
            ended.append(arrived)
        return Walk(row=row, ready=tuple(readies), ended=tuple(ended))

    def _ends(self, piece: PricedPiece, priced: ByLength, ready: Prices) -> Prices:
        """The least price of having ended the piece at each step."""
        ends = np.full(self._prices.steps + 1, NEVER, dtype=np.int64)
        for number, (elapsed, prices) in enumerate(priced.items()):
            here = ends[piece.first + elapsed : piece.last + elapsed]
            if number:
                np.minimum(here, (ready + prices)[: len(here)], out=here)
            else:
                np.add(ready[: len(here)], prices[: len(here)], out=here)
        return ends


def _taken(passed: Sequence[Passed], end: int) -> Iterator[tuple[int, Taking]]:
    """What the cheapest course with that end takes, from the last piece back to the first."""
    for place in reversed(range(len(passed))):
        leg, leg_end, start = passed[place].leg, end, end
        walk = min(passed[place].walks, key=lambda walk: int(walk.ended[-1][leg_end]))
        for index in reversed(range(len(leg.pieces))):
            piece = leg.pieces[index]
            start, elapsed = _start_before(piece, passed[place].priced[index], walk.ready[index], end)
            yield from piece.taken_at(start, elapsed)
            before = walk.ended[index - 1] if index else passed[place - 1].ended
            end = _end_before(before, leg.before[index], start)
        if walk.row is not None:
            yield start, Taking(row=walk.row, first=0, last=leg_end - start, amount=1)


def _start_before(piece: PricedPiece, priced: ByLength, ready: Prices, end: int) -> tuple[int, int]:
    """The start and the elapsed length that give the least price of ending at `end`."""
    found = []
    for elapsed, prices in priced.items():
        place = end - elapsed - piece.first
        if 0 <= place < len(ready):
            found.append((int(ready[place] + prices[place]), piece.first + place, elapsed))
    _, start, elapsed = min(found)
    return start, elapsed


def _end_before(ended: Prices, wait: Wait | None, start: int) -> int:
    """When the piece before ended, or anything before the first piece."""
    if wait is None:
        return 0
    first = 0 if wait.most is None else max(start - wait.most, 0)
    return first + int(ended[first : start - wait.least + 1].argmin())


def _to_go(piece: PricedPiece, priced: ByLength, ended: Prices) -> Prices:
    """The least price from each start of the piece on, from that of having ended it."""
    to_go = np.full(piece.last - piece.first, NEVER, dtype=np.int64)
    for elapsed, prices in priced.items():
        after = ended[piece.first + elapsed : piece.last + elapsed]
        here = to_go[: len(after)]
        np.minimum(here, prices[: len(after)] + after, out=here)
    return to_go


def after_wait(ended: Prices, wait: Wait) -> Prices:
    """The least price of being ready to start at each step, from that of having ended at each step."""
    ready = np.full(len(ended), NEVER, dtype=np.int64)
    if wait.most is None:
        np.minimum.accumulate(ended[: len(ended) - wait.least], out=ready[wait.least :])
    elif wait.most >= wait.least:
        ready[wait.least :] = _least_lately(ended, wait.most - wait.least + 1)[: len(ended) - wait.least]
    return ready


def _least_lately(prices: Prices, window: int) -> Prices:
    """The least of the last `window` prices at each step, this one included.

    Van Herk, "A fast algorithm for local minimum and maximum filters", 1992: the least so far in
    blocks of that length, forward and backward; a window is the tail of one block and the head of the next.
    """
    steps, blocks = len(prices), -(-(len(prices) + window - 1) // window)
    padded = np.full(blocks * window, NEVER, dtype=np.int64)
    padded[window - 1 : window - 1 + steps] = prices
    grid = padded.reshape(blocks, window)
    heads = np.minimum.accumulate(grid, axis=1).ravel()
    tails = np.minimum.accumulate(grid[:, ::-1], axis=1)[:, ::-1].ravel()
    least: Prices = np.minimum(tails[:steps], heads[window - 1 : window - 1 + steps])
    return least


def _legs(
    resources: Resources, prices: PriceList, work: TyreWork, reach: Sequence[PieceStarts]
) -> Iterator[Leg]:
    waits = {wait.after + 1: wait for wait in work.waits}
    spread = list(_wide_stays(work))
    done = 0
    for entry in reach:
        first = entry.piece.stages.start
        if first < done:
            continue
        stay = next((stay for stay in spread if stay.start == first), range(first, entry.piece.stages.stop))
        inside = [other for other in reach if stay.start <= other.piece.stages.start < stay.stop]
        done = stay.stop
        rows: list[int | None] = [None]
        if stay in spread:
            rows = [
                resources.rows.positions + pool.id for pool in position_choices(resources.state, work, stay)
            ]
        yield Leg(
            pieces=tuple(PricedPiece(resources, prices, work, other) for other in inside),
            before=tuple(waits.get(other.piece.stages.start) for other in inside),
            rows=tuple(rows),
        )


def _wide_stays(work: TyreWork) -> Iterator[range]:
    """Stays that begin and end with whole pieces and are not one unpausable piece by themselves."""
    starts, stops = {p.stages.start for p in work.pieces}, {p.stages.stop for p in work.pieces}
    for stay in work.job.stays():
        inside = [piece for piece in work.pieces if piece.stages.start in stay]
        whole = stay.start in starts and stay.stop in stops
        if whole and (len(inside) > 1 or inside[0].pausable):
            yield stay
