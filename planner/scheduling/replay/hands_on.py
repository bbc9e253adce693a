"""Hands-on work in a replay: the first stretch in one shift in which the whole crew can do it."""

from dataclasses import dataclass

from planner.scheduling.replay.calendar import CrewWindow
from planner.scheduling.replay.piece import Part
from planner.scheduling.replay.state import ReplayState


@dataclass(frozen=True, slots=True, kw_only=True)
class Stint:
    """Who does a piece from when to when [min after the calendar's base]."""

    start: int
    end: int
    crew: tuple[str, ...] = ()


def stint_find(state: ReplayState, part: Part, earliest: int, planned: int) -> Stint | None:
    """The stage at or after `earliest`; None where it no longer fits the horizon.

    A crew begins where the planned minutes fit, since nobody knows beforehand that work will take longer, and
    then finishes it, past the end of its shift where need be. Its own crew does it, unless that would keep
    the tyre waiting past its `planned` start: then a crew with the skill that need not wait, or else
    whichever is done first.
    """
    best: Stint | None = None
    own = part.planned.technicians
    for crew in (own, *(crew for crew in state.stand_ins(part) if crew != own)):
        found = _stint_of(state, crew, part, earliest)
        if found and found.start <= max(earliest, planned):
            return found
        if found and (best is None or found.end < best.end):
            best = found
    return best


def _stint_of(state: ReplayState, crew: tuple[str, ...], part: Part, earliest: int) -> Stint | None:
    kept = state.taken(crew) | state.watch.needs(crew)
    work, pausable = part.asked, part.stage.pausable
    for window in state.calendar.windows(crew):
        if window.end - work < earliest:
            continue
        start = _start_in(window, kept, max(earliest, window.start), work, pausable=pausable)
        if start is not None:
            drawn = state.drawn(part)
            end = window.end_of(start, drawn, pausable=pausable) or start + drawn
            return Stint(start=start, end=end, crew=crew)
    return None


def _start_in(window: CrewWindow, kept: int, start: int, work: int, *, pausable: bool) -> int | None:
    """The first start in the window at which the planned `work` meets nothing that is kept."""
    while start + work <= window.end:
        end = window.end_of(start, work, pausable=pausable)
        if end is None:
            start = _after_pause(window, start, work)
            continue
        if end > window.end:
            return None
        clash = (kept >> start) & ((1 << (end - start)) - 1)
        if not clash:
            return start
        start += clash.bit_length()
    return None


def _after_pause(window: CrewWindow, start: int, work: int) -> int:
    """The end of the first pause that work from `start` meets."""
    return next(end for begin, end in window.pauses if end > start and begin < start + work)
