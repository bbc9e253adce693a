"""Which starts a job by itself leaves open: its pieces' own masks, tightened along the chain of waits.

A start survives when some start of the piece before leads to it and it leads to some start of the piece
after. Crews and places of different pieces are not compared, so the answer may hold a start that no
plan can use, and never lacks one that a plan could.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.solver.choices import CrewChoice
from planner.solver.masks import Mask, first_of, last_of, moved, spread, spread_back, stretch
from planner.solver.pieces import Piece, TyreWork, Wait


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceStarts:
    """A piece, the steps at which it may start and, where it may pause, the crews that set its length."""

    piece: Piece
    starts: Mask
    pauses: tuple[CrewChoice, ...] = ()

    def ends(self) -> Mask:
        """The steps at which it may end."""
        if not self.piece.pausable:
            return moved(self.starts, self.piece.work)
        ends = 0
        for choice in self.pauses:
            ends |= moved(self.starts & choice.starts, choice.elapsed)
        return ends

    def starts_for(self, ends: Mask) -> Mask:
        """Its starts that lead to one of those ends."""
        if not self.piece.pausable:
            return self.starts & moved(ends, -self.piece.work)
        starts = 0
        for choice in self.pauses:
            starts |= self.starts & choice.starts & moved(ends, -choice.elapsed)
        return starts

    def only(self, starts: Mask) -> "PieceStarts":
        """The same piece with fewer starts."""
        return PieceStarts(piece=self.piece, starts=self.starts & starts, pauses=self.pauses)


def tightened(work: TyreWork, pieces: Sequence[PieceStarts], grid: int) -> tuple[PieceStarts, ...]:
    """The pieces with the starts that the whole chain allows."""
    reached = list(pieces)
    waits = {wait.after: wait for wait in work.waits}
    for index, here in enumerate(reached):
        wait = waits.get(here.piece.stages.start - 1)
        if wait is not None and wait.after in work.locked:
            reached[index] = here.only(_after_locked(work.locked[wait.after].end, wait, grid))
        elif wait is not None:
            reached[index] = here.only(_after(reached[index - 1].ends(), wait))
    for index in reversed(range(len(reached))):
        here = reached[index]
        wait = waits.get(here.piece.stages.stop - 1)
        if wait is not None and wait.after + 1 in work.locked:
            reached[index] = here.only(
                here.starts_for(_before_locked(work.locked[wait.after + 1].start, wait, grid))
            )
        elif wait is not None:
            reached[index] = here.only(here.starts_for(_before(reached[index + 1].starts, wait, here.ends())))
    return tuple(reached)


def _after(ends: Mask, wait: Wait) -> Mask:
    if not ends:
        return 0
    if wait.most is None:
        return ~stretch(0, first_of(ends) + wait.least)
    return spread(moved(ends, wait.least), wait.most - wait.least) if wait.most >= wait.least else 0


def _before(starts: Mask, wait: Wait, ends: Mask) -> Mask:
    if not starts:
        return 0
    if wait.most is None:
        return ends & stretch(0, last_of(starts) - wait.least + 1)
    return spread_back(moved(starts, -wait.least), wait.most - wait.least) if wait.most >= wait.least else 0


def _after_locked(end_minute: int, wait: Wait, grid: int) -> Mask:
    earliest = -(-end_minute // grid) + wait.least
    if wait.most is None:
        return ~stretch(0, earliest)
    return stretch(earliest, end_minute // grid + wait.most + 1)


def _before_locked(start_minute: int, wait: Wait, grid: int) -> Mask:
    earliest = 0 if wait.most is None else -(-start_minute // grid) - wait.most
    return stretch(earliest, start_minute // grid - wait.least + 1)


def starts_by_stage(pieces: Sequence[PieceStarts]) -> Mapping[int, PieceStarts]:
    """Each stage's piece."""
    return {stage: entry for entry in pieces for stage in entry.piece.stages}
