"""The heat block in a replay: started only where its planned minutes are attended, then run to its end."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby

from planner.domain.work import StageKind
from planner.scheduling.dispatch.timeline import first_slot, slots_between, starts_of_runs
from planner.scheduling.replay.piece import Part, Piece
from planner.scheduling.replay.state import ReplayState
from planner.scheduling.replay.watch import at_least

NEAR_MIN = 24 * 60
"""How far past its planned start a block is first looked for [min]."""


def block_start(state: ReplayState, piece: Piece, earliest: int) -> int | None:
    """The first moment at which the planned minutes fit attended time, crews, supply, set and position.

    Its own crews count alone, unless they would keep the tyre waiting past its planned start.
    """
    in_time = max(earliest, piece.start - state.calendar.base)
    length = piece.end - piece.start
    # Most find their moment soon, and a shorter timeline costs less; the whole one is looked at where not.
    for reach in (in_time - earliest + NEAR_MIN, state.calendar.width - earliest):
        view = View(earliest, max(reach, 0) + length)
        starts = _starts(state, piece, view)
        own = _with_crews(state, piece, view, starts, stand_ins=False)
        if own and earliest + first_slot(own) <= in_time:
            return earliest + first_slot(own)
        if any_crew := _with_crews(state, piece, view, starts, stand_ins=True):
            return earliest + first_slot(any_crew)
    return None


@dataclass(frozen=True, slots=True)
class View:
    """So many minutes of the timelines from `first` on, counted from there."""

    first: int
    length: int

    def of(self, timeline: int) -> int:
        """Those minutes of a timeline."""
        return (timeline >> self.first) & ((1 << self.length) - 1)


def _starts(state: ReplayState, piece: Piece, view: View) -> int:
    """The starts that all but the crews allow."""
    starts = view.of(state.calendar.all)
    offset = 0
    for part in piece.parts:
        planned = part.planned
        free = state.calendar.open_starts(planned.heater_set, planned.position, part.nominal)
        starts &= view.of(free) >> offset
        offset += part.nominal
    heater_set = piece.parts[0].planned.heater_set
    if heater_set:
        free = view.of(state.supply.free(state.sets[heater_set], view.first))
        for start, length in _runs(piece, lambda part: part.stage.kind is StageKind.ENERGISED):
            starts &= starts_of_runs(free, length) >> start
    free = view.of(state.watch.free())
    for start, length in _runs(piece, state.is_watched):
        starts &= starts_of_runs(free, length) >> start
    return starts


def _with_crews(state: ReplayState, piece: Piece, view: View, starts: int, *, stand_ins: bool) -> int:
    """Those of `starts` at which each hands-on part has a crew."""
    offset = 0
    for part in piece.parts:
        if part.stage.kind is StageKind.HANDS_ON and starts:
            starts &= (_any_crew if stand_ins else _own_crew)(state, part, view) >> offset
        offset += part.nominal
    return starts


def _own_crew(state: ReplayState, part: Part, view: View) -> int:
    return starts_of_runs(_free(state, part, part.planned.technicians, view), part.nominal)


def _any_crew(state: ReplayState, part: Part, view: View) -> int:
    """The starts at which so many technicians as the part needs are free for all of it."""
    able = state.able(part)
    if not able:
        return _own_crew(state, part, view)
    alone = [starts_of_runs(_free(state, part, (one,), view), part.nominal) for one in able]
    return at_least(alone, view.of(state.calendar.all), most=part.stage.crew)[part.stage.crew]


def _free(state: ReplayState, part: Part, crew: tuple[str, ...], view: View) -> int:
    """The minutes in which a crew could do a part and the watch can spare it."""
    hours = view.of(state.calendar.crew_hours(crew, breaks=part.stage.pausable))
    return hours & ~view.of(state.taken(crew)) & ~view.of(state.watch.needs(crew)) if hours else 0


def run_block(state: ReplayState, piece: Piece, start: int) -> tuple[int, int]:
    """Run the block from `start` with the drawn minutes: its end, and how long it was hot and alone."""
    moment, hot = start, 0
    for part in piece.parts:
        begun = moment
        if part.stage.kind is StageKind.HANDS_ON:
            called = max(begun, start + part.planned.start - piece.start)
            moment, held = _with_crew(state, part, called)
            hot |= slots_between(begun, held) if hot else 0
        else:
            moment += state.drawn(part)
            hot |= slots_between(begun, moment) if state.is_watched(part) else 0
        _energise(state, part, begun, moment)
        state.leave(part, moment)
    return moment, state.watch.attend(hot).bit_count()


def _runs(piece: Piece, wanted: Callable[[Part], bool]) -> Iterator[tuple[int, int]]:
    """Stretches of the planned block whose parts are all wanted, as (minutes after its start, length)."""
    offset = 0
    for is_wanted, parts in groupby(piece.parts, key=wanted):
        length = sum(part.nominal for part in parts)
        if is_wanted:
            yield offset, length
        offset += length


def _with_crew(state: ReplayState, part: Part, ready: int) -> tuple[int, int]:
    """A hands-on part once its crew is free: its end, and until when the tyre waited for the crew.

    A crew is not called before its planned time in the block, even where the tyre is ready sooner.
    Where no crew comes any more on that day, the work is counted from `ready`, as overtime.
    """
    work, own = state.drawn(part), part.planned.technicians
    begun = _called(state, part, own, ready, work)
    crew = own
    if begun != ready:
        calls = [(at, one) for one in state.stand_ins(part) if (at := _called(state, part, one, ready, work))]
        calls += [(begun, own)] if begun is not None else []
        begun, crew = min(calls, key=lambda call: call[0], default=(ready, own))
    state.work(crew, begun, begun + work)
    return begun + work, begun


def _called(state: ReplayState, part: Part, crew: tuple[str, ...], ready: int, work: int) -> int | None:
    """When a crew can begin a part that is ready; None where it does not come in time."""
    free = state.calendar.crew_hours(crew, breaks=part.stage.pausable) & ~state.taken(crew)
    starts = starts_of_runs(free, min(work, part.nominal)) & slots_between(ready, ready + _PATIENCE_MIN)
    return first_slot(starts) if starts else None


_PATIENCE_MIN = 4 * 60
"""How long a cooled tyre stays under pressure for its crew before overtime is called [min]: an assumption."""


def _energise(state: ReplayState, part: Part, start: int, end: int) -> None:
    if part.stage.kind is StageKind.ENERGISED and part.planned.heater_set:
        state.supply.energise(state.sets[part.planned.heater_set], start, end)
