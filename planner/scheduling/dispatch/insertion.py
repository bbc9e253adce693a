"""Where one more job fits on the board: its earliest end over all pools, crews and attendants.

A pass forward over the pieces keeps, for everything a piece may hold, the timeline of all starts to which the
job so far can lead. So waits, stays and the block need no trial and error: a pass back from the earliest end
picks one start for each piece.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from planner.scheduling.dispatch.bay import Bay, BayJob
from planner.scheduling.dispatch.board import Board, Placement
from planner.scheduling.dispatch.claims import Stand, placement_of
from planner.scheduling.dispatch.hands import Hands
from planner.scheduling.dispatch.pieces import Piece
from planner.scheduling.dispatch.room import Room
from planner.scheduling.dispatch.route import Held, Route, Step, route_of
from planner.scheduling.dispatch.timeline import (
    first_slot,
    last_slot,
    nearest_slot,
    reached_after,
    reached_through,
    slots_between,
)

Variants = list[tuple[int, int]]
"""Pairs of (length of the piece, the slots from which it can start)."""
Layer = dict[Held, Variants]


class Lean(Enum):
    """Which way the pieces before the last lean where the earliest end leaves a choice."""

    EARLY = "early"
    LATE = "late"


@dataclass(slots=True)
class Insertion:
    """Finds placements on boards of one bay."""

    bay: Bay
    hands: Hands
    room: Room
    routes: tuple[Route, ...]

    @classmethod
    def on(cls, board: Board) -> "Insertion":
        """An insertion for boards of the bay of `board`."""
        bay, hands = board.bay, Hands(board)
        return cls(bay, hands, Room(board, hands), tuple(route_of(bay, job) for job in bay.jobs))

    def find(
        self,
        board: Board,
        job: BayJob,
        lean: Lean = Lean.EARLY,
        skip: int = 0,
        near: Sequence[Stand] | None = None,
    ) -> Placement | None:
        """The placement of `job` with the earliest end, or the `skip`-th later one; None if nothing fits.

        With `near` each piece, from the last to the first, ends as near as it can to where it stood there,
        and keeps the pools and the crews that are free: exactly that placement wherever it still fits.
        """
        earliest = self._earliest(board, job)
        if earliest is None:
            return None
        layers = self._forward(board, job, earliest)
        if layers is None:
            return None
        if near is None:
            stands = self._back(board, job, layers, _Pick(lean=lean, skip=skip))
        else:
            stands = self._back(board, job, layers, _Near(stands=near))
        return placement_of(self.bay, board.lines, job, stands)

    def _earliest(self, board: Board, job: BayJob) -> int | None:
        """The first slot for `job` by release and the jobs before it; None where one of those is left out."""
        earliest = job.release
        for number in job.after:
            before = board.placements[number]
            if before is None:
                return None
            earliest = max(earliest, self.bay.grid.slot_after(before.end))
        return earliest

    def _forward(self, board: Board, job: BayJob, earliest: int) -> list[Layer] | None:
        width, layers = self.bay.grid.width, []
        layer: Layer = {}
        for number, step in enumerate(self.routes[job.number]):
            fixed = step.piece.locked_start is not None
            open_from = 0 if fixed else earliest
            if number == 0:
                entries = {step.kept(held): slots_between(open_from, width) for held in step.choices}
            else:
                entries = self._entries(board, self.routes[job.number][number - 1].piece, step, layer)
                if open_from and not fixed:
                    entries = {kept: slots >> open_from << open_from for kept, slots in entries.items()}
            layer = self.room.layer(board, step, entries)
            if not layer:
                return None
            layers.append(layer)
        return self._until(layers, job.latest_end)

    def _entries(self, board: Board, before: Piece, step: Step, layer: Layer) -> dict[Held, int]:
        """The slots in which `step` may start after `layer`, by what it keeps."""
        least, greatest = before.gap.least, before.gap.greatest
        locked_on = before.locked_start is not None and step.piece.locked_start is not None
        entries = {}
        for kept, ends in _ends(step, layer).items():
            if locked_on:
                entries[kept] = -1
            elif kept[0] is not None and greatest != 0:
                entries[kept] = reached_through(ends, least, greatest, board.free(kept[0]))
            else:
                entries[kept] = reached_after(ends, least, greatest, self.bay.grid.width)
        return entries

    def _until(self, layers: list[Layer], latest_end: int) -> list[Layer] | None:
        """Keep only what ends by `latest_end`."""
        last: Layer = {}
        for held, variants in layers[-1].items():
            in_time = [
                (length, starts & slots_between(0, latest_end - length + 1)) for length, starts in variants
            ]
            if any(starts for _, starts in in_time):
                last[held] = [variant for variant in in_time if variant[1]]
        layers[-1] = last
        return layers if last else None

    def _back(self, board: Board, job: BayJob, layers: list[Layer], pick: "_Pick | _Near") -> list[Stand]:
        """One start for each piece, from the last to the first."""
        route = self.routes[job.number]
        ends = 0
        for reached in _ends(None, layers[-1]).values():
            ends |= reached
        last = len(route) - 1
        stands = [_standing(layers[-1], pick.last(ends), None, pick.wanted(last))]
        for number in range(last - 1, -1, -1):
            after = stands[-1]
            kept = route[number + 1].kept(after.held)
            end = self._end_before(board, route, number, layers[number], after, pick)
            stands.append(_standing(layers[number], end, (route[number + 1], kept), pick.wanted(number)))
        stands.reverse()
        return [
            stand.manned(self.hands.crews(board, step.piece, stand.start, stand.length, pick.crews(number)))
            for number, (step, stand) in enumerate(zip(route, stands, strict=True))
        ]

    def _end_before(
        self, board: Board, route: Route, number: int, layer: Layer, after: Stand, pick: "_Pick | _Near"
    ) -> int:
        """The end of piece `number` that leads to the one after it, which stands at `after`."""
        step, following = route[number], route[number + 1]
        kept, gap = following.kept(after.held), step.piece.gap
        ends = _ends(following, layer)[kept]
        if step.piece.locked_start is not None and following.piece.locked_start is not None:
            return first_slot(ends)
        lowest = 0 if gap.greatest is None else after.start - gap.greatest
        if kept[0] is not None:
            blocked = ~board.free(kept[0]) & slots_between(0, after.start)
            lowest = max(lowest, blocked.bit_length())
        ends &= slots_between(max(lowest, 0), after.start - gap.least + 1)
        return pick.before(number, ends)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pick:
    """The earliest end of all, or one soon after; the pieces before it lean one way."""

    lean: Lean
    skip: int

    def last(self, ends: int) -> int:
        for _ in range(self.skip):
            ends = ends & (ends - 1) or ends
        return first_slot(ends)

    def before(self, number: int, ends: int) -> int:
        return first_slot(ends) if self.lean is Lean.EARLY else last_slot(ends)

    def wanted(self, number: int) -> Stand | None:
        return None

    def crews(self, number: int) -> tuple[tuple[int, ...], ...]:
        return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Near:
    """As it stood before, or as near to it as it goes."""

    stands: Sequence[Stand]

    def last(self, ends: int) -> int:
        return nearest_slot(ends, self.stands[-1].end)

    def before(self, number: int, ends: int) -> int:
        return nearest_slot(ends, self.stands[number].end)

    def wanted(self, number: int) -> Stand | None:
        return self.stands[number]

    def crews(self, number: int) -> tuple[tuple[int, ...], ...]:
        return self.stands[number].crews


def _ends(following: Step | None, layer: Layer) -> dict[Held, int]:
    """The slots in which pieces of `layer` end, by what `following` keeps (None: nothing)."""
    ends: dict[Held, int] = {}
    for held, variants in layer.items():
        kept = following.kept(held) if following else (None, None, None)
        for length, starts in variants:
            ends[kept] = ends.get(kept, 0) | (starts << length)
    return ends


def _standing(
    layer: Layer, end: int, following: tuple[Step, Held] | None, wanted: Stand | None = None
) -> Stand:
    """The first way in `layer` to end at `end` and lead on to `following`; the `wanted` one where it does."""
    for held, variants in layer.items() if wanted is None else _wanted_first(layer, wanted):
        if following and following[0].kept(held) != following[1]:
            continue
        for length, starts in variants:
            if end >= length and starts >> (end - length) & 1:
                return Stand(held=held, start=end - length, length=length, crews=())
    raise LookupError(f"no piece ends in slot {end}")


def _wanted_first(layer: Layer, wanted: Stand) -> Iterable[tuple[Held, Variants]]:
    return (
        (held, sorted(variants, key=lambda variant: variant[0] != wanted.length))
        for held, variants in sorted(layer.items(), key=lambda entry: _strange(entry[0], wanted.held))
    )


def _strange(held: Held, wanted: Held) -> int:
    """How many of the three are others than those that were wanted."""
    return sum(one != other for one, other in zip(held, wanted, strict=True))
