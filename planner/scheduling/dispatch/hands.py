"""Who can do hands-on work when: start slots for a crew, and the crew that takes it."""

from collections.abc import Iterator
from itertools import combinations
from operator import is_

from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.calendar import Elapsed, WorkCalendar, paused_starts
from planner.scheduling.dispatch.pieces import Piece
from planner.scheduling.dispatch.timeline import starts_of_runs

Crew = tuple[int, ...]
Variants = list[tuple[int, int]]
"""Pairs of a length and the slots from which a work lasts so long."""


class Hands:
    """The technicians of a bay as crews, on any board of that bay; remembers what it has worked out."""

    def __init__(self, board: Board) -> None:
        bay = board.bay
        self._crew = bay.crew
        self._lines = board.lines
        self._cures = bay.problem.rules.cures_per_attendant
        self._may_work = bay.problem.rules.attendant_may_work
        self._named = bay.named_watch
        self._attendants = [bool(calendar.attending) for calendar in bay.crew]
        self._skilled: dict[str, Crew] = {}
        self._free: list[dict[int, tuple[int, int]]] = [{} for _ in bay.crew]
        self._known_pauses: dict[tuple[Crew, int], tuple[list[object], Variants]] = {}
        self._paused: dict[tuple[Crew, int], Elapsed] = {}
        self._unmissed: dict[Crew, list[int]] = {}

    def skilled(self, skill: str) -> Crew:
        """The technicians with `skill`, those with the fewest other skills first: they are missed least."""
        if skill not in self._skilled:
            able = [number for number, one in enumerate(self._crew) if skill in one.skills]
            able.sort(key=lambda number: (self._attendants[number], len(self._crew[number].skills), number))
            self._skilled[skill] = tuple(able)
        return self._skilled[skill]

    def starts(self, board: Board, skill: str, crew: int, length: int) -> int:
        """The slots from which `crew` technicians with `skill` are free for an unpaused work of `length`."""
        if self._may_work:
            able = [self._free_from(board, number, length) for number in self.skilled(skill)]
            return _at_least_of(able, crew)[crew]
        if self._named:
            able = [self._alone(board, number, length) for number in self.skilled(skill)]
            return _at_least_of(able, crew)[crew]
        return self._starts_beside_watch(board, skill, crew, length)

    def _starts_beside_watch(self, board: Board, skill: str, crew: int, length: int) -> int:
        """As `starts`, where each attendant at work is missing from the common watch."""
        able = self.skilled(skill)
        others = _at_least_of(
            [self._free_from(board, n, length) for n in able if not self._attendants[n]], crew
        )
        watchers = _at_least_of(
            [self._free_from(board, n, length) for n in able if self._attendants[n]], crew
        )
        starts = 0
        for missing in range(crew + 1):
            spared = -1 if missing == 0 else self._spared(board, missing, length)
            starts |= others[crew - missing] & watchers[missing] & spared
        return starts

    def _spared(self, board: Board, missing: int, length: int) -> int:
        """The slots from which the watch can do without `missing` attendants for `length` slots."""
        return board.free_from(self._lines.watch[0], self._cures * missing, length)

    def _alone(self, board: Board, number: int, length: int) -> int:
        free = self._free_from(board, number, length)
        if free and not self._may_work and self._attendants[number]:
            free &= board.free_from(self._lines.watch[number], self._cures, length)
        return free

    def _free_from(self, board: Board, number: int, length: int) -> int:
        """The slots from which one technician is on shift, in no break and in no other work for `length`."""
        busy = board.busy[number]
        known = self._free[number].get(length)
        # The same number object means the same state: a board that falls back brings it back too.
        if known is not None and known[0] is busy:
            return known[1]
        free = self._crew[number].starts(length) & starts_of_runs(~busy, length)
        self._free[number][length] = (busy, free)
        return free

    def chosen(self, board: Board, skill: str, crew: int, start: int, length: int, wanted: Crew = ()) -> Crew:
        """The crew that takes a work which `starts` allows at `start`; whoever is `wanted` where free."""
        alone = self._alone if self._may_work or self._named else self._free_from
        able = [number for number in self.skilled(skill) if alone(board, number, length) >> start & 1]
        if len(able) > crew:
            able.sort(key=lambda number: (number not in wanted, *self._rank(board, number, start)))
        return tuple(sorted(able[:crew]))

    def _rank(self, board: Board, number: int, start: int) -> tuple[bool, int, int]:
        """Attendants last, then whoever is idle for the shortest before `start`: small gaps are used up."""
        worked = board.busy[number] & ((1 << start) - 1)
        present = ~self._crew[number].present & ((1 << start) - 1)
        return self._attendants[number], start - max(worked.bit_length(), present.bit_length()), number

    def crews(
        self, board: Board, piece: Piece, start: int, length: int, wanted: tuple[Crew, ...] = ()
    ) -> tuple[Crew, ...]:
        """The crew of each hands-on stage of a piece that stands at `start`; none for locked work.

        `wanted` names a crew for each of these stages, which is taken as far as it is free.
        """
        if piece.locked_start is not None:
            return tuple(() for _ in piece.hands_on)
        wanted = wanted or ((),) * len(piece.hands_on)
        if piece.pausable:
            work = piece.hands_on[0]
            able = (
                members
                for lasts, starts, members in self.paused(board, work.skill, work.crew, work.length)
                if lasts == length and starts >> start & 1
            )
            return (min(able, key=lambda crew: self._crew_rank(board, crew, start, wanted[0])),)
        return tuple(
            self.chosen(board, work.skill, work.crew, start + work.offset, work.length, before)
            for work, before in zip(piece.hands_on, wanted, strict=True)
        )

    def _crew_rank(self, board: Board, crew: Crew, start: int, wanted: Crew) -> tuple[object, ...]:
        strangers = len(set(crew) - set(wanted)) if wanted else 0
        return strangers, [self._rank(board, number, start) for number in crew]

    def paused(self, board: Board, skill: str, crew: int, work: int) -> Iterator[tuple[int, int, Crew]]:
        """Lengths, start slots and crews of a pausable work of `work` slots."""
        for members in combinations(self.skilled(skill), crew):
            for length, starts in self._paused_by(board, members, work):
                yield length, starts, members

    def _paused_by(self, board: Board, members: Crew, work: int) -> Variants:
        """Lengths and start slots of a pausable work of one crew, by shifts, breaks, other work and watch."""
        state = self._state_of(board, members)
        known = self._known_pauses.get((members, work))
        # The same objects mean the same state: a board that falls back brings them back too.
        if known is not None and all(map(is_, known[0], state)):
            return known[1]
        runs, covered = self._spare(board, members), 1
        variants: Variants = []
        for length, begins in self._elapsed(members, work):
            runs, covered = starts_of_runs(runs, length, covered), length
            if starts := begins & runs:
                variants.append((length, starts))
        self._known_pauses[members, work] = (state, variants)
        return variants

    def _state_of(self, board: Board, members: Crew) -> list[object]:
        """What of the board tells when `members` can work."""
        state: list[object] = [board.busy[number] for number in members]
        if self._may_work:
            return state
        watched = members if self._named else (0,)
        return state + [board.left[self._lines.watch[number]] for number in watched]

    def _spare(self, board: Board, members: Crew) -> int:
        """The slots in which `members` do no other work and the watch, breaks included, can spare them."""
        spare = -1
        for number in members:
            spare &= ~board.busy[number]
        if self._may_work:
            return spare
        if self._named:
            for number in members:
                free = board.free(self._lines.watch[number], self._cures)
                spare &= free | ~self._crew[number].attending
            return spare
        for count, unmissed in enumerate(self._unmissed_by(members), start=1):
            spare &= board.free(self._lines.watch[0], self._cures * count) | unmissed
        return spare

    def _elapsed(self, members: Crew, work: int) -> Elapsed:
        if (members, work) not in self._paused:
            crew: tuple[WorkCalendar, ...] = tuple(self._crew[number] for number in members)
            self._paused[members, work] = paused_starts(crew, work)
        return self._paused[members, work]

    def _unmissed_by(self, members: Crew) -> list[int]:
        """For each count from 1 on the slots in which fewer of `members` would be on the watch."""
        if members not in self._unmissed:
            missing = _at_least_of([self._crew[number].attending for number in members], len(members))
            self._unmissed[members] = [~slots for slots in missing[1:]]
        return self._unmissed[members]


def _at_least_of(timelines: list[int], most: int) -> list[int]:
    """For each count from 0 to `most` the slots that so many of `timelines` hold at least."""
    counted = [-1] + [0] * most
    if most == 1:
        for timeline in timelines:
            counted[1] |= timeline
        return counted
    for timeline in timelines:
        if timeline:
            for count in range(most, 0, -1):
                counted[count] |= counted[count - 1] & timeline
    return counted
