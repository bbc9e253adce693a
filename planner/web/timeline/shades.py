"""What lies behind the bars: the hours in which a lane can't be used, and why."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Technician
from planner.web.timeline.items import LaneKind


class ShadeKind(StrEnum):
    """Why nothing can happen there."""

    OFF_SHIFT = "off-shift"
    BREAK = "break"
    CLOSED = "closed"
    ISOLATED = "isolated"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """A stretch of one lane to be hatched."""

    kind: ShadeKind
    span: Span


def lane_shades(problem: BayProblem, kind: LaneKind, lane: str, window: Span) -> tuple[Shade, ...]:
    """The hatched stretches of one lane inside the window, the widest reason first."""
    match kind:
        case LaneKind.TECHNICIANS:
            return tuple(_of_technician(_find(problem.technicians, lane), window))
        case LaneKind.POSITIONS:
            closed = next(position.closed for position in problem.positions if position.id == lane)
            return (*_bay_off(problem, window), *_shades(ShadeKind.CLOSED, closed))
    closed = next(heater_set.closed for heater_set in problem.heater_sets if heater_set.id == lane)
    isolated = _shades(ShadeKind.ISOLATED, problem.power_off)
    return (*_bay_off(problem, window), *_shades(ShadeKind.CLOSED, closed), *isolated)


def _find(technicians: tuple[Technician, ...], lane: str) -> Technician:
    return next(technician for technician in technicians if technician.id == lane)


def _of_technician(technician: Technician, window: Span) -> Iterator[Shade]:
    yield from _shades(ShadeKind.OFF_SHIFT, gaps((shift.span for shift in technician.shifts), window))
    for shift in technician.shifts:
        yield from _shades(ShadeKind.BREAK, shift.breaks)


def _bay_off(problem: BayProblem, window: Span) -> tuple[Shade, ...]:
    """Hours with nobody in the bay."""
    spans = (shift.span for technician in problem.technicians for shift in technician.shifts)
    return _shades(ShadeKind.OFF_SHIFT, gaps(spans, window))


def _shades(kind: ShadeKind, spans: Iterable[Span]) -> tuple[Shade, ...]:
    return tuple(Shade(kind=kind, span=span) for span in spans)


def gaps(spans: Iterable[Span], window: Span) -> tuple[Span, ...]:
    """What the spans leave open inside the window."""
    found, cursor = [], window.start
    for span in sorted(spans):
        if span.start > cursor:
            found.append(Span(cursor, min(span.start, window.end)))
        cursor = max(cursor, span.end)
        if cursor >= window.end:
            return tuple(found)
    return (*found, Span(cursor, window.end))
