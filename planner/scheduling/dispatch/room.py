"""Where a piece fits: hands, position, heater set, supply and watch, each as a timeline of starts."""

from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.hands import Hands
from planner.scheduling.dispatch.pieces import Piece, Within
from planner.scheduling.dispatch.pools import SetPool
from planner.scheduling.dispatch.route import Held, Step
from planner.scheduling.dispatch.timeline import starts_of_runs

Variants = list[tuple[int, int]]


class Room:
    """The room on boards of one bay."""

    def __init__(self, board: Board, hands: Hands) -> None:
        self._bay = board.bay
        self._lines = board.lines
        self._hands = hands
        self._supply = board.bay.supply
        self._named = board.bay.named_watch

    def layer(self, board: Board, step: Step, entries: dict[Held, int]) -> dict[Held, Variants]:
        """All starts of the piece of `step` in `entries`, by what it then holds."""
        if not any(entries.values()):
            return {}
        piece = step.piece
        found: dict[Held, Variants] = {}
        if piece.locked_start is not None:
            return self._locked_layer(board, step, entries)
        for length, starts in self._by_itself(board, piece):
            known: dict[object, int] = {}
            for held in step.choices:
                fits = starts & entries.get(step.kept(held), 0)
                if fits:
                    fits &= self._holding(board, piece, length, held, known)
                if fits:
                    found.setdefault(held, []).append((length, fits))
        return found

    def _locked_layer(self, board: Board, step: Step, entries: dict[Held, int]) -> dict[Held, Variants]:
        """Locked work stands where it stands; what it holds is already taken, its attendant is not."""
        piece = step.piece
        start = 1 << (piece.locked_start or 0)
        found = {}
        for held in step.choices:
            fits = entries.get(step.kept(held), 0) & start
            if fits and held[2] is not None and piece.watched:
                fits &= self._attended(board, piece, held[2])
            if fits:
                found[held] = [(piece.length, fits)]
        return found

    def _by_itself(self, board: Board, piece: Piece) -> Variants:
        """Lengths and starts by hands, by the supply being on and, where it is shared, by the watch."""
        if piece.pausable:
            work = piece.hands_on[0]
            lengths: dict[int, int] = {}
            for length, starts, _ in self._hands.paused(board, work.skill, work.crew, work.length):
                lengths[length] = lengths.get(length, 0) | starts
            return sorted(lengths.items())
        starts = starts_of_runs(self._bay.grid.horizon, piece.length)
        starts &= _all_of(self._supply.on, piece.energised)
        if piece.watched and not self._named:
            for offset, length in piece.watched:
                starts &= board.free_from(self._lines.watch[0], 1, length) >> offset
        for work in piece.hands_on:
            if not starts:
                break
            starts &= self._hands.starts(board, work.skill, work.crew, work.length) >> work.offset
        return [(piece.length, starts)] if starts else []

    def _holding(self, board: Board, piece: Piece, length: int, held: Held, known: dict[object, int]) -> int:
        """The starts that what it holds allows; `known` spares asking twice."""
        place, set_pool, attendant = held
        fits = -1
        if place is not None:
            if ("place", place) not in known:
                known["place", place] = board.free_from(place, 1, length)
            fits &= known["place", place]
        if set_pool is not None:
            if ("set", set_pool) not in known:
                known["set", set_pool] = self._heated(board, piece, length, set_pool, known)
            fits &= known["set", set_pool]
        if attendant is not None and piece.watched and fits:
            if ("watch", attendant) not in known:
                known["watch", attendant] = self._attended(board, piece, attendant)
            fits &= known["watch", attendant]
        return fits

    def _heated(self, board: Board, piece: Piece, length: int, number: int, known: dict[object, int]) -> int:
        """The starts for which a set of the pool, its power and its channels are free."""
        pool, line = self._bay.sets[number], self._lines.first_set + number
        held = length + (pool.turnaround if piece.ends_block else 0)
        starts = board.free_from(line, 1, held) & starts_of_runs(pool.open, length)
        if starts and piece.energised:
            demand = ("supply", pool.power, pool.channels)
            if demand not in known:
                known[demand] = self._supplied(board, piece, pool)
            starts &= known[demand]
        return starts

    def _supplied(self, board: Board, piece: Piece, pool: SetPool) -> int:
        """The starts for which the power and the channels of a set of `pool` are left."""
        starts = -1
        for offset, length in piece.energised:
            if pool.power and self._supply.power is not None:
                starts &= board.free_from(self._lines.power, pool.power, length) >> offset
            if pool.channels and self._supply.channels is not None:
                starts &= board.free_from(self._lines.channels, pool.channels, length) >> offset
        return starts

    def _attended(self, board: Board, piece: Piece, attendant: int) -> int:
        """The starts for which `attendant` can have the whole watch; before the horizon is history."""
        free = board.free(self._lines.watch[attendant]) | ((1 << self._bay.grid.first) - 1)
        return _all_of(free, piece.watched)


def _all_of(free: int, stretches: Within) -> int:
    """The starts from which all `stretches` of a piece lie in `free`."""
    starts = -1
    for offset, length in stretches:
        starts &= starts_of_runs(free, length) >> offset
    return starts
