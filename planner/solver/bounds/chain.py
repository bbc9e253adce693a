"""The cheapest way to do one job at given prices, by dynamic programming along its chain of pieces.

Exact for a job by itself: calendars, crews, breaks, waits, places and closures are kept; only what the
job shares with others is paid for instead.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from planner.solver.bounds.priced_piece import PricedPiece
from planner.solver.bounds.resources import Resources
from planner.solver.bounds.ways import NEVER, Prices, Taking
from planner.solver.choices import position_choices
from planner.solver.pieces import TyreWork, Wait
from planner.solver.reach import PieceStarts


@dataclass(frozen=True, kw_only=True)
class Leg:
    """Pieces that hold one position together, and the rows it may come from; or one piece without."""

    pieces: tuple[PricedPiece, ...]
    before: tuple[Wait | None, ...]
    rows: tuple[int | None, ...]


@dataclass(frozen=True, kw_only=True)
class Walk:
    """One pass through a leg: prices to have started and to have ended each piece at every step."""

    row: int | None
    started: tuple[Prices, ...]
    ended: tuple[Prices, ...]


class JobChain:
    """One unlocked job, priced as a whole."""

    def __init__(self, resources: Resources, work: TyreWork, reach: Sequence[PieceStarts]) -> None:
        self._steps = resources.steps
        self._legs = tuple(_legs(resources, work, reach))

    def cheapest(self, cumulated: Prices, at_end: Prices) -> tuple[int, list[tuple[int, Taking]]]:
        """The least price of doing the job, `at_end` included, and what that takes (start step, taking)."""
        lengths, walks = self._walked(cumulated)
        total = np.minimum.reduce([walk.ended[-1] for walk in walks[-1]]) + at_end
        end = int(total.argmin())
        return int(total[end]), list(self._taken(walks, lengths, end, cumulated))

    def by_end(self, cumulated: Prices) -> Prices:
        """The least price of ending at each step; `NEVER` and more where it cannot."""
        _, walks = self._walked(cumulated)
        least: Prices = np.minimum.reduce([walk.ended[-1] for walk in walks[-1]])
        return least

    def _walked(self, cumulated: Prices) -> tuple[list[list[dict[int, Prices]]], list[list[Walk]]]:
        """For each leg the prices of its pieces by length, and a pass through it on each of its rows."""
        walks, arrived = [], np.zeros(self._steps + 1, dtype=np.int64)
        lengths = [[dict(piece.prices_by_length(cumulated)) for piece in leg.pieces] for leg in self._legs]
        for leg, priced in zip(self._legs, lengths, strict=True):
            tried = [_walk(leg, row, priced, arrived, cumulated) for row in leg.rows]
            walks.append(tried)
            arrived = np.minimum.reduce([walk.ended[-1] for walk in tried])
        return lengths, walks

    def _taken(
        self, walks: list[list[Walk]], lengths: list[list[dict[int, Prices]]], end: int, cumulated: Prices
    ) -> Iterator[tuple[int, Taking]]:
        for place in reversed(range(len(self._legs))):
            leg, leg_end = self._legs[place], end
            walk = _cheapest_at(walks[place], leg_end)
            start = end
            for index in reversed(range(len(leg.pieces))):
                piece = leg.pieces[index]
                start, elapsed = _start_before(piece, lengths[place][index], walk.started[index], end)
                yield from ((start, taking) for taking in piece.taken_at(start, elapsed, cumulated))
                before = walk.ended[index - 1] if index else _least_of(walks[place - 1] if place else [])
                end = _end_before(before, leg.before[index], start)
            if walk.row is not None:
                yield start, Taking(row=walk.row, first=0, last=leg_end - start, amount=1)


def _cheapest_at(walks: list[Walk], end: int) -> Walk:
    return min(walks, key=lambda walk: int(walk.ended[-1][end]))


def _least_of(walks: list[Walk]) -> Prices | None:
    return np.minimum.reduce([walk.ended[-1] for walk in walks]) if walks else None


def _start_before(
    piece: PricedPiece, priced: dict[int, Prices], started: Prices, end: int
) -> tuple[int, int]:
    """The start and the elapsed length that give the least price of ending at `end`."""
    found = []
    for elapsed, prices in priced.items():
        start = end - elapsed
        if piece.first <= start < piece.last:
            found.append((int(started[start] + prices[start - piece.first]), start, elapsed))
    _, start, elapsed = min(found)
    return start, elapsed


def _end_before(ended: Prices | None, wait: Wait | None, start: int) -> int:
    if ended is None or wait is None:
        return 0
    first = 0 if wait.most is None else max(start - wait.most, 0)
    return first + int(ended[first : start - wait.least + 1].argmin())


def _walk(
    leg: Leg, row: int | None, priced: Sequence[dict[int, Prices]], arrived: Prices, cumulated: Prices
) -> Walk:
    started, ended = [], []
    for index, piece in enumerate(leg.pieces):
        wait = leg.before[index]
        ready = arrived if wait is None else after_wait(arrived, wait)
        if row is not None and not index:
            ready = ready - cumulated[row][: len(ready)]
        started.append(ready)
        arrived = _ends(piece, priced[index], ready)
        if row is not None and index == len(leg.pieces) - 1:
            arrived = arrived + cumulated[row][: len(arrived)]
        ended.append(arrived)
    return Walk(row=row, started=tuple(started), ended=tuple(ended))


def _ends(piece: PricedPiece, priced: dict[int, Prices], ready: Prices) -> Prices:
    ends = np.full(len(ready), NEVER, dtype=np.int64)
    for elapsed, prices in priced.items():
        here = ends[piece.first + elapsed : piece.last + elapsed]
        np.minimum(here, ready[piece.first : piece.last][: len(here)] + prices[: len(here)], out=here)
    return ends


def after_wait(ended: Prices, wait: Wait) -> Prices:
    """The least price of being ready to start at each step, from that of having ended at each step."""
    ready = np.full(len(ended), NEVER, dtype=np.int64)
    if wait.most is None:
        ready[wait.least :] = np.minimum.accumulate(ended)[: len(ended) - wait.least]
        return ready
    least, window, have = ended.copy(), wait.most - wait.least + 1, 1
    while have < window:
        more = min(have, window - have)
        least[more:] = np.minimum(least[more:], least[:-more])
        have += more
    if window > 0:
        ready[wait.least :] = least[: len(ended) - wait.least]
    return ready


def _legs(resources: Resources, work: TyreWork, reach: Sequence[PieceStarts]) -> Iterator[Leg]:
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
            pieces=tuple(PricedPiece(resources, work, other) for other in inside),
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
