"""The ways in which one piece of work can use the bay's resources, as a price list reads them.

A piece asks for several things at once (a crew for each hands-on stage, a set with its supply, somebody
to watch); for each it has one or more ways. Its least price at a start is the sum, over the things, of
the cheapest way that is open at that start.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.solver.attendance import watched_in
from planner.solver.bounds.resources import Resources
from planner.solver.choices import CrewChoice, crew_choices, position_choices, set_choices, stage_starts
from planner.solver.crews import Crew
from planner.solver.masks import Mask, room_for
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import SetPool
from planner.solver.supply import energised_runs

NEVER = 1 << 55
"""A price that no plan pays; small enough that many of them still fit a whole number of 64 bits."""

Prices = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """So much of a row from one offset to another, both counted from the piece's start [steps]."""

    row: int
    first: int
    last: int
    amount: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to give a piece one of the things that it asks, and the starts at which it is open."""

    takings: tuple[Taking, ...]
    starts: Mask
    elapsed: int


def things_asked(resources: Resources, work: TyreWork, piece: Piece) -> list[list[Way]]:
    """For each thing that the piece asks, its ways; stays that go on beyond the piece are not its own."""
    found = [_crew_ways(resources, piece, stage) for stage in piece.stages if work.job.stages[stage].crew]
    if work.job.block and tuple(piece.stages) == work.job.block:
        found.append([_set_way(resources, work, piece, pool) for pool in set_choices(resources.state, work)])
    for stage, length in watched_in(resources.state, piece):
        first = piece.offset_of(stage)
        found.append(
            [
                _way(
                    resources,
                    piece,
                    Taking(row=resources.rows.watch, first=first, last=first + length, amount=1),
                )
            ]
        )
    own = (stay for stay in work.job.stays() if stay.start in piece.stages and stay.stop - 1 in piece.stages)
    found.extend(list(_stay_ways(resources, work, piece, stay)) for stay in own if not piece.pausable)
    return found


def _way(resources: Resources, piece: Piece, *takings: Taking) -> Way:
    return Way(takings=takings, starts=resources.state.bay.whole, elapsed=piece.work)


def _crew_ways(resources: Resources, piece: Piece, stage: int) -> list[Way]:
    offset = piece.offset_of(stage)
    return [
        Way(
            takings=tuple(_crew_takings(resources, choice, offset, piece.length_of(stage))),
            starts=stage_starts(piece, stage, choice.starts),
            elapsed=choice.elapsed if piece.pausable else piece.work,
        )
        for choice in crew_choices(resources.state, piece, stage)
    ]


def _crew_takings(resources: Resources, choice: CrewChoice, offset: int, work: int) -> Iterator[Taking]:
    last = offset + choice.elapsed
    for pool, count in Counter(choice.crew.pools).items():
        yield Taking(row=resources.rows.crews + pool, first=offset, last=last, amount=count)
    rules = resources.state.bay.problem.rules
    lost = 0 if rules.attendant_may_work else _attendants(resources, choice.crew) * rules.cures_per_attendant
    if lost and (rules.watch_through_breaks or choice.elapsed == work):
        yield Taking(row=resources.rows.watch, first=offset, last=last, amount=lost)


def _attendants(resources: Resources, crew: Crew) -> int:
    bay = resources.state.bay
    return sum(bay.problem.rules.watch_skill in bay.crews[pool].skills for pool in crew.pools)


def _set_way(resources: Resources, work: TyreWork, piece: Piece, pool: SetPool) -> Way:
    takings = [
        Taking(row=resources.rows.sets + pool.id, first=0, last=piece.work + pool.turnaround, amount=1),
        *_supply_takings(resources, work, piece, pool),
    ]
    return Way(takings=tuple(takings), starts=room_for(pool.open, piece.work), elapsed=piece.work)


def _supply_takings(resources: Resources, work: TyreWork, piece: Piece, pool: SetPool) -> Iterator[Taking]:
    for run in energised_runs(work):
        first = piece.offset_of(run.start)
        last = piece.offset_of(run.stop - 1) + piece.length_of(run.stop - 1)
        for row, amount in (
            (resources.rows.power, resources.power_of(pool)),
            (resources.rows.channels, pool.channels),
        ):
            if row is not None and amount:
                yield Taking(row=row, first=first, last=last, amount=amount)


def _stay_ways(resources: Resources, work: TyreWork, piece: Piece, stay: range) -> Iterator[Way]:
    first = piece.offset_of(stay.start)
    last = piece.offset_of(stay.stop - 1) + piece.length_of(stay.stop - 1)
    for pool in position_choices(resources.state, work, stay):
        taking = Taking(row=resources.rows.positions + pool.id, first=first, last=last, amount=1)
        starts = stage_starts(piece, stay.start, room_for(pool.open, last - first))
        yield Way(takings=(taking,), starts=starts, elapsed=piece.work)


def flags(mask: Mask, first: int, last: int) -> Flags:
    """The steps of a mask from `first` up to `last` as an array of yes and no."""
    count = last - first
    bits = (mask >> first) & ((1 << count) - 1)
    raw = np.frombuffer(bits.to_bytes(-(-count // 8), "little"), dtype=np.uint8)
    return np.unpackbits(raw, count=count, bitorder="little").astype(np.bool_)


def mask_of(open_steps: Flags) -> Mask:
    """The other way round: an array of yes and no, from step 0 on, as a mask."""
    return int.from_bytes(np.packbits(open_steps, bitorder="little").tobytes(), "little")
