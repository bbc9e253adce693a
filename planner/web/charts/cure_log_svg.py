"""A cure's log as one SVG drawing for page and paper: both pads, pressure, bands and numbered events."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

WIDTH, HEIGHT = 960, 430
LEFT, RIGHT, TOP, BOTTOM = 52, 58, 44, 44
BUCKETS = 400
"""A line is thinned to the least and the greatest reading of so many stretches: a spike is never lost."""

LETTERS = 'font-family="Liberation Sans, DejaVu Sans, sans-serif" font-size="13" fill="currentColor"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """A scale from 0 to `top` with a mark every `step`, in `unit`."""

    top: float
    step: float
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One curve over the log's minutes on its axis; None where nothing was read."""

    name: str
    values: Sequence[float | None]
    axis: Axis
    colour: str
    dashes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A planned stretch of values across the drawing; one value where low and high are the same."""

    name: str
    low: float
    high: float
    axis: Axis
    name_below: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """A numbered moment or stretch of the log [min]; an odd one is shaded."""

    number: int
    name: str
    from_min: float
    to_min: float
    odd: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LogDrawing:
    """Everything that is drawn."""

    minutes: Sequence[float]
    lines: Sequence[Line]
    bands: Sequence[Band] = ()
    events: Sequence[Event] = ()

    @property
    def end(self) -> float:
        """The last minute [min]."""
        return max(self.minutes[-1], 1e-9) if self.minutes else 1.0

    def across(self, minute: float) -> float:
        """How far from the left a minute stands [px]."""
        return LEFT + (WIDTH - LEFT - RIGHT) * minute / self.end


def cure_log_svg(drawing: LogDrawing) -> str:
    """The drawing; lines differ by dashes and carry their names, so that colour is not needed."""
    axes = list(dict.fromkeys(line.axis for line in drawing.lines))
    parts = [
        *(_odd(drawing, event) for event in drawing.events if event.odd),
        *(_band(band) for band in drawing.bands),
        *(mark for side, axis in enumerate(axes[:2]) for mark in _scale(axis, right=side == 1)),
        *_hours(drawing),
        *(_line(drawing, line) for line in drawing.lines),
        *_names(drawing.lines),
        *(_event(drawing, event) for event in drawing.events),
    ]
    title = "Cure log: " + ", ".join(line.name for line in drawing.lines)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" class="cure-log">'
        f"<title>{escape(title)}</title><g {LETTERS}>{''.join(parts)}</g></svg>"
    )


def thinned(minutes: Sequence[float], values: Sequence[float | None]) -> Iterator[tuple[float, float | None]]:
    """The readings, or of every stretch of a long log its least and greatest in their order, and each gap."""
    stride = max(1, len(minutes) // BUCKETS)
    if stride <= 2:
        yield from zip(minutes, values, strict=True)
        return
    for start in range(0, len(minutes), stride):
        stretch = range(start, min(start + stride, len(minutes)))
        read = [place for place in stretch if values[place] is not None]
        if len(read) < len(stretch):
            yield minutes[start], None
        if read:
            ends = {min(read, key=values.__getitem__), max(read, key=values.__getitem__)}  # type: ignore[arg-type]
            yield from ((minutes[place], values[place]) for place in sorted(ends))


def _up(value: float, axis: Axis) -> float:
    return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * min(max(value / axis.top, -0.02), 1.05)


def _line(drawing: LogDrawing, line: Line) -> str:
    """A path that breaks where nothing was read."""
    words, pen_down = [], False
    for minute, value in thinned(drawing.minutes, line.values):
        if value is not None:
            place = f"{drawing.across(minute):.1f} {_up(value, line.axis):.1f}"
            words.append(f"{'L' if pen_down else 'M'}{place}")
        pen_down = value is not None
    path = f'<path fill="none" {_stroke(line)} d="{" ".join(words)}">'
    return f"{path}<title>{escape(line.name)}</title></path>"


def _stroke(line: Line) -> str:
    dashes = f' stroke-dasharray="{escape(line.dashes)}"' if line.dashes else ""
    return f'stroke="{line.colour}" stroke-width="2"{dashes}'


def _names(lines: Sequence[Line]) -> Iterator[str]:
    """The lines' names above the drawing, each behind a sample of its line."""
    for place, line in enumerate(lines):
        left = LEFT + place * 190
        yield f'<line x1="{left}" x2="{left + 34}" y1="12" y2="12" {_stroke(line)}/>'
        yield f'<text x="{left + 40}" y="16">{escape(line.name)}</text>'


def _scale(axis: Axis, *, right: bool) -> Iterator[str]:
    edge, anchor, away = (WIDTH - RIGHT, "start", 6) if right else (LEFT, "end", -6)
    for count in range(int(axis.top / axis.step) + 1):
        height = _up(count * axis.step, axis)
        if not right:
            yield _rule(height, "0.14")
        place = f'x="{edge + away}" y="{height + 4:.1f}" text-anchor="{anchor}"'
        yield f"<text {place}>{count * axis.step:g}</text>"
    yield f'<text x="{edge + away}" y="{TOP - 10}" text-anchor="{anchor}">{escape(axis.unit)}</text>'


def _rule(height: float, opacity: str, dashes: str = "") -> str:
    rule = f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{height:.1f}" y2="{height:.1f}"'
    return f'{rule} stroke="currentColor" stroke-opacity="{opacity}"{dashes}/>'


def _hours(drawing: LogDrawing) -> Iterator[str]:
    step = next((each for each in (15, 30, 60, 120, 240) if drawing.end / each <= 14), 480)
    for count in range(int(drawing.end // step) + 1):
        minute = count * step
        text = f"{minute // 60}:{minute % 60:02d}"
        yield f'<text x="{drawing.across(minute):.1f}" y="{HEIGHT - 24}" text-anchor="middle">{text}</text>'
    words = f"hours and minutes after the log's start, {drawing.end:.0f} min in all"
    yield f'<text x="{WIDTH - RIGHT}" y="{HEIGHT - 6}" text-anchor="end">{words}</text>'


def _band(band: Band) -> str:
    """An area with its name at its foot, or a level with its name above it or, if it asks so, below."""
    low, high = _up(band.low, band.axis), _up(band.high, band.axis)
    level = band.low == band.high
    height = high + 13 if band.name_below else (high if level else low) - 5
    middle = f'x="{(LEFT + WIDTH - RIGHT) / 2}" y="{height:.1f}" text-anchor="middle" font-size="11.5"'
    name = f"<text {middle}>{escape(band.name)}</text>"
    if level:
        return _rule(high, "0.75", ' stroke-dasharray="1 3"') + name
    area = f'<rect x="{LEFT}" width="{WIDTH - LEFT - RIGHT}" y="{high:.1f}" height="{low - high:.1f}"'
    return f'{area} fill="currentColor" fill-opacity="0.08"/>{name}'


def _odd(drawing: LogDrawing, event: Event) -> str:
    left, right = drawing.across(event.from_min), drawing.across(event.to_min)
    area = f'<rect x="{left - 1:.1f}" width="{max(right - left, 0) + 2:.1f}" y="{TOP}"'
    return f'{area} height="{HEIGHT - TOP - BOTTOM}" fill="#c0392b" fill-opacity="0.22"/>'


def _event(drawing: LogDrawing, event: Event) -> str:
    """A numbered flag; odd ones are square and filled, moments are round."""
    place = drawing.across(event.from_min)
    rule = f'<line x1="{place:.1f}" x2="{place:.1f}" y1="{TOP}" y2="{HEIGHT - BOTTOM}" stroke="currentColor"'
    flag = (
        f'<rect x="{place - 9:.1f}" y="{TOP - 18}" width="18" height="18" fill="#a32a1c"/>'
        if event.odd
        else f'<circle cx="{place:.1f}" cy="{TOP - 9}" r="9" fill="#08323e"/>'
    )
    text = f'<text x="{place:.1f}" y="{TOP - 4.5}" text-anchor="middle" font-size="12" fill="#ffffff"'
    name = f"<title>{escape(event.name)}</title>"
    return f'{rule} stroke-dasharray="2 4"/>{flag}{text}>{event.number}{name}</text>'
