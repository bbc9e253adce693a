"""Hands-on work in a replay: the first stretch in one shift in which the whole crew can do it."""

from planner.scheduling.replay.calendar import CrewWindow
from planner.scheduling.replay.piece import Part
from planner.scheduling.replay.state import ReplayState


def hands_on_span(state: ReplayState, part: Part, earliest: int) -> tuple[int, int] | None:
    """Start and end of the stage at or after `earliest`; None where it no longer fits the horizon."""
    crew, work = part.planned.technicians, state.drawn(part)
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
