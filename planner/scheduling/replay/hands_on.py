"""Hands-on work in a replay: the first stretch in one shift in which the whole crew can do it."""

from planner.scheduling.replay.calendar import CrewWindow
from planner.scheduling.replay.piece import Part
from planner.scheduling.replay.state import ReplayState


def hands_on_span(
    state: ReplayState, part: Part, earliest: int, planned: int
) -> tuple[int, int, tuple[str, ...]] | None:
    """Start, end and crew of the stage at or after `earliest`; None where it no longer fits the horizon.

    Its own crew does it, unless that would keep the tyre waiting past its `planned` start: then a crew with
    the skill that need not wait, or else whichever is done first.
    """
    own, work = part.planned.technicians, state.drawn(part)
    best: tuple[int, int, tuple[str, ...]] | None = None
    for crew in (own, *state.stand_ins(part)):
        span = _span_of(state, crew, part, earliest, work)
        if span and span[0] <= max(earliest, planned):
            return *span, crew
        if span and (best is None or span[1] < best[1]):
            best = (*span, crew)
    return best


def _span_of(
    state: ReplayState, crew: tuple[str, ...], part: Part, earliest: int, work: int
) -> tuple[int, int] | None:
    kept = state.taken(crew) | (state.calendar.all & ~state.watch.spares(crew))
    for window in state.calendar.windows(crew):
        if window.end - work >= earliest and (
            span := _in_window(window, kept, max(earliest, window.start), work, pausable=part.stage.pausable)
        ):
            return span
    return None


def _in_window(
    window: CrewWindow, kept: int, start: int, work: int, *, pausable: bool
) -> tuple[int, int] | None:
    while start + work <= window.end:
        end = window.end_of(start, work, pausable=pausable)
        if end is None:
            start = _after_pause(window, start, work)
            continue
        if end > window.end:
            return None
        clash = (kept >> start) & ((1 << (end - start)) - 1)
        if not clash:
            return start, end
        start += clash.bit_length()
    return None


def _after_pause(window: CrewWindow, start: int, work: int) -> int:
    """The end of the first pause that work from `start` meets."""
    return next(end for begin, end in window.pauses if end > start and begin < start + work)
