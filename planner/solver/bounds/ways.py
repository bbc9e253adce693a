"""The ways in which one piece of work can use the bay's resources, as a price list reads them.

A piece asks for several things at once (a crew for each hands-on stage, a set with its supply, somebody
to watch); for each it has one or more ways. Its least price at a start is the sum, over the things, of
the cheapest way that is open at that start.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.solver.attendance import watched_in
from planner.solver.bounds.resources import Resources
from planner.solver.choices import CrewChoice, crew_choices, position_choices, set_choices
from planner.solver.crews import Crew
from planner.solver.masks import Mask, room_for
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import SetPool
from planner.solver.supply import energised_runs

NEVER = 1 << 50
"""A price that no plan pays; small enough that thousands of them still fit a whole number of 64 bits."""

Prices = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taking:
    """So much of a row from one offset to another, both counted from where the way starts [steps]."""

    row: int
    first: int
    last: int
    amount: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to have a thing that is asked, and the starts at which it is open."""

    takings: tuple[Taking, ...]
    starts: Mask


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One thing that a piece asks from `offset` after its start on, for as long as it lasts where it pauses.

    `elapsed` is how long the piece then lasts in all [steps].
    """

    offset: int
    elapsed: int
    ways: tuple[Way, ...]


def things_asked(resources: Resources, work: TyreWork, piece: Piece) -> list[Thing]:
    """What the piece asks, all at once; stays that go on beyond the piece are not its own."""
    found = [
        _thing(piece, stage, (_crew_way(resources, choice, piece.length_of(stage)) for choice in choices))
        for stage in piece.stages
        if work.job.stages[stage].crew
        for choices in [crew_choices(resources.state, piece, stage)]
    ]
    if work.job.block and tuple(piece.stages) == work.job.block:
        pools = set_choices(resources.state, work)
        found.append(
            _thing(piece, piece.stages.start, (_set_way(resources, work, piece, pool) for pool in pools))
        )
    for stage, length in watched_in(resources.state, piece):
        watch = Taking(row=resources.rows.watch, first=0, last=length, amount=1)
        found.append(_thing(piece, stage, [Way(takings=(watch,), starts=resources.state.bay.whole)]))
    own = (stay for stay in work.job.stays() if stay.start in piece.stages and stay.stop - 1 in piece.stages)
    found.extend(_thing(piece, stay.start, _stay_ways(resources, work, piece, stay)) for stay in own)
    return found


def paused_ways(resources: Resources, piece: Piece) -> list[Thing]:
    """The one thing that a pausable piece asks, a crew, once for each length that its pauses may give it."""
    stage, ways = piece.stages.start, defaultdict(list)
    for choice in crew_choices(resources.state, piece, stage):
        ways[choice.elapsed].append(_crew_way(resources, choice, piece.length_of(stage)))
    return [Thing(offset=0, elapsed=elapsed, ways=tuple(ways[elapsed])) for elapsed in sorted(ways)]


def _thing(piece: Piece, stage: int, ways: Iterable[Way]) -> Thing:
    return Thing(offset=piece.offset_of(stage), elapsed=piece.work, ways=tuple(ways))


def _crew_way(resources: Resources, choice: CrewChoice, work: int) -> Way:
    return Way(takings=tuple(_crew_takings(resources, choice, work)), starts=choice.starts)


def _crew_takings(resources: Resources, choice: CrewChoice, work: int) -> Iterator[Taking]:
    for pool, count in Counter(choice.crew.pools).items():
        yield Taking(row=resources.rows.crews + pool, first=0, last=choice.elapsed, amount=count)
    rules = resources.state.bay.problem.rules
    lost = 0 if rules.attendant_may_work else _attendants(resources, choice.crew) * rules.cures_per_attendant
    if lost and (rules.watch_through_breaks or choice.elapsed == work):
        yield Taking(row=resources.rows.watch, first=0, last=choice.elapsed, amount=lost)


def _attendants(resources: Resources, crew: Crew) -> int:
    bay = resources.state.bay
    return sum(bay.problem.rules.watch_skill in bay.crews[pool].skills for pool in crew.pools)


def _set_way(resources: Resources, work: TyreWork, piece: Piece, pool: SetPool) -> Way:
    takings = [
        Taking(row=resources.rows.sets + pool.id, first=0, last=piece.work + pool.turnaround, amount=1),
        *_supply_takings(resources, work, piece, pool),
    ]
    return Way(takings=tuple(takings), starts=room_for(pool.open, piece.work))


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
    last_stage = stay.stop - 1
    length = piece.offset_of(last_stage) + piece.length_of(last_stage) - piece.offset_of(stay.start)
    for pool in position_choices(resources.state, work, stay):
        taking = Taking(row=resources.rows.positions + pool.id, first=0, last=length, amount=1)
        yield Way(takings=(taking,), starts=room_for(pool.open, length))


def flags(mask: Mask, first: int, last: int) -> Flags:
    """The steps of a mask from `first` up to `last` as an array of yes and no."""
    count = last - first
    bits = (mask >> first) & ((1 << count) - 1)
    raw = np.frombuffer(bits.to_bytes(-(-count // 8), "little"), dtype=np.uint8)
    return np.unpackbits(raw, count=count, bitorder="little").astype(np.bool_)


def mask_of(open_steps: Flags) -> Mask:
    """The other way round: an array of yes and no, from step 0 on, as a mask."""
    return int.from_bytes(np.packbits(open_steps, bitorder="little").tobytes(), "little")
