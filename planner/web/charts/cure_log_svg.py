"""A cure's log as one SVG drawing: both pads, pressure, bands and events."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH, HEIGHT, EDGE = 900, 360, 40
MOST_POINTS = 800
"""A line is thinned to so many points: more than the drawing has pixels for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One curve over the log's minutes, drawn against its own greatest value; None where nothing was read."""

    name: str
    values: Sequence[float | None]
    top: float
    dashes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A planned level across the drawing, such as timer start or release, in the unit of its line."""

    name: str
    value: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something at a minute of the log."""

    name: str
    at_min: float


def cure_log_svg(
    minutes: Sequence[float], lines: Sequence[Line], levels: Sequence[Level], events: Sequence[Event]
) -> str:
    """The drawing; lines differ by dashes and carry their names, so that colour is not needed."""
    end = max(minutes[-1], 1e-9) if minutes else 1.0
    parts = [
        *(_level(level) for level in levels),
        *(_line(minutes, line, end) for line in lines),
        *(_event(event, end) for event in events),
        f'<text x="{WIDTH - EDGE}" y="{HEIGHT - 8}" text-anchor="end">{end:.0f} min</text>',
    ]
    title = "Cure log: " + ", ".join(line.name for line in lines)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img">'
        f"<title>{escape(title)}</title>{''.join(parts)}</svg>"
    )


def _across(minute: float, end: float) -> float:
    return EDGE + (WIDTH - 2 * EDGE) * minute / end


def _up(value: float, top: float) -> float:
    return HEIGHT - EDGE - (HEIGHT - 2 * EDGE) * min(value / top, 1.1)


def _line(minutes: Sequence[float], line: Line, end: float) -> str:
    """A path that breaks where nothing was read."""
    stride = max(1, -(-len(minutes) // MOST_POINTS))
    words, pen_down = [], False
    for minute, value in zip(minutes[::stride], line.values[::stride], strict=True):
        if value is not None:
            words.append(f"{'L' if pen_down else 'M'}{_across(minute, end):.1f} {_up(value, line.top):.1f}")
        pen_down = value is not None
    dashes = f' stroke-dasharray="{escape(line.dashes)}"' if line.dashes else ""
    path = f'<path fill="none" stroke="currentColor"{dashes} d="{" ".join(words)}">'
    return f"{path}<title>{escape(line.name)}</title></path>"


def _level(level: Level) -> str:
    height = _up(level.value, level.top)
    rule = f'<line x1="{EDGE}" x2="{WIDTH - EDGE}" y1="{height:.1f}" y2="{height:.1f}"'
    text = f'<text x="{EDGE}" y="{height - 3:.1f}">{escape(level.name)}</text>'
    return f'{rule} stroke="currentColor" stroke-opacity="0.3"/>{text}'


def _event(event: Event, end: float) -> str:
    place = _across(event.at_min, end)
    rule = f'<line x1="{place:.1f}" x2="{place:.1f}" y1="{EDGE}" y2="{HEIGHT - EDGE}"'
    text = f'<text x="{place + 3:.1f}" y="{EDGE - 6}">{escape(event.name)}</text>'
    return f'{rule} stroke="currentColor" stroke-dasharray="2 4"/>{text}'
