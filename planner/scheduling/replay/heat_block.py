"""The heat block in a replay: started only where its planned minutes are attended, then run to its end."""

from collections.abc import Iterator

from planner.domain.work import StageKind
from planner.scheduling.dispatch.timeline import first_slot, slots_between, starts_of_runs
from planner.scheduling.replay.piece import Part, Piece
from planner.scheduling.replay.state import ReplayState


def block_start(state: ReplayState, piece: Piece, earliest: int) -> int | None:
    """The first moment at which the planned minutes fit attended time, crews, supply, set and position."""
    starts = slots_between(earliest, state.calendar.width)
    offset = 0
    for part in piece.parts:
        for free in _asked(state, part, earliest):
            starts &= starts_of_runs(free, part.nominal) >> offset
        offset += part.nominal
    for start, end in _watched_runs(state, piece):
        starts &= starts_of_runs(state.watch.free(), end - start) >> start
    return first_slot(starts) if starts else None


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


def _asked(state: ReplayState, part: Part, earliest: int) -> Iterator[int]:
    """The timelines in which all of a part's planned minutes must lie."""
    planned, calendar = part.planned, state.calendar
    if planned.heater_set:
        yield calendar.set_open[planned.heater_set]
    if planned.position:
        yield calendar.spot_open[planned.position]
    if part.stage.kind is StageKind.HANDS_ON:
        crew = planned.technicians
        yield (
            calendar.crew_hours(crew, breaks=part.stage.pausable)
            & ~state.taken(crew)
            & state.watch.spares(crew)
        )
    if part.stage.kind is StageKind.ENERGISED and planned.heater_set:
        yield state.supply.free(state.sets[planned.heater_set], earliest)


def _watched_runs(state: ReplayState, piece: Piece) -> Iterator[tuple[int, int]]:
    """The watched stretches of the planned block, in minutes after its start."""
    offset = 0
    for part in piece.parts:
        if state.is_watched(part):
            yield offset, offset + part.nominal
        offset += part.nominal


def _with_crew(state: ReplayState, part: Part, ready: int) -> tuple[int, int]:
    """A hands-on part once its crew is free: its end, and until when the tyre waited for the crew.

    A crew is not called before its planned time in the block, even where the tyre is ready sooner.
    Where no crew comes any more on that day, the work is counted from `ready`, as overtime.
    """
    crew, work = part.planned.technicians, state.drawn(part)
    free = state.calendar.crew_hours(crew, breaks=part.stage.pausable) & ~state.taken(crew)
    starts = starts_of_runs(free, min(work, part.nominal)) & slots_between(ready, ready + _PATIENCE_MIN)
    begun = first_slot(starts) if starts else ready
    state.work(crew, begun, begun + work)
    return begun + work, begun


_PATIENCE_MIN = 4 * 60
"""How long a cooled tyre stays under pressure for its crew before overtime is called [min]: an assumption."""


def _energise(state: ReplayState, part: Part, start: int, end: int) -> None:
    if part.stage.kind is StageKind.ENERGISED and part.planned.heater_set:
        state.supply.energise(state.sets[part.planned.heater_set], start, end)
