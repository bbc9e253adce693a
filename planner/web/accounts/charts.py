"""Bars as numbers that a template draws: labels, bars and values each in a column of their own.

Every chart has its values in a table beside it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.domain.money import Money
from planner.selectors.accounts.words import Swing

WIDTH, ROW, TOP = 720, 34, 22
LABEL, VALUES = 200, 210
DRAWN = WIDTH - LABEL - VALUES
# Share of the drawing that a line outside all bars may cost them.
_FAR = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar: its label, its amount as text, and its box [px]."""

    label: str
    words: str
    x: float
    y: float
    width: float
    below: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A line across all bars at an amount [px], with its words and where those stand."""

    name: str
    words: str
    x: float
    anchor: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BarChart:
    """Bars with the lines that they are read against [px]."""

    bars: tuple[Bar, ...]
    marks: tuple[Mark, ...]
    height: int
    width: int = WIDTH
    values: int = WIDTH


@dataclass(frozen=True, slots=True, kw_only=True)
class _Span:
    label: str
    low: float
    high: float
    words: str


def bars(rows: Iterable[tuple[str, Money]]) -> BarChart:
    """One bar for each amount, to the left of zero where it is below nothing."""
    spans = [
        _Span(
            label=label,
            low=min(float(amount.amount), 0.0),
            high=max(float(amount.amount), 0.0),
            words=str(amount.rounded()),
        )
        for label, amount in rows
    ]
    return _chart(spans, [("zero", "0", 0.0)])


def swing_bars(swings: Sequence[Swing], stands: Money) -> BarChart:
    """One bar for each swing, from the lower saving to the higher, against the saving as it stands.

    Zero, where the answer turns, is drawn unless it lies so far off that the bars would shrink to nothing.
    """
    spans = []
    for swing in swings:
        low, high = sorted((swing.saving_low, swing.saving_high), key=lambda money: money.amount)
        words = f"{low.rounded().amount:,f} – {high.rounded().amount:,f}"
        spans.append(
            _Span(label=str(swing.lever), low=float(low.amount), high=float(high.amount), words=words)
        )
    marks = [("stands", "as it stands", float(stands.amount))]
    reach = [end for span in spans for end in (span.low, span.high)] or [0.0]
    low_end, high_end = min(reach), max(reach)
    if min(abs(low_end), abs(high_end)) <= _FAR * (high_end - low_end) or low_end <= 0 <= high_end:
        marks.append(("zero", "0", 0.0))
    return _chart(spans, marks)


def _chart(spans: Sequence[_Span], marks: Sequence[tuple[str, str, float]]) -> BarChart:
    ends = [*(end for span in spans for end in (span.low, span.high)), *(at for _, _, at in marks)]
    low = min(ends)
    scale = DRAWN / ((max(ends) - low) or 1.0)
    return BarChart(
        bars=tuple(
            Bar(
                label=span.label,
                words=span.words,
                x=round(LABEL + (span.low - low) * scale, 1),
                y=TOP + place * ROW,
                width=round(max((span.high - span.low) * scale, 1.5), 1),
                below=span.high <= 0,
            )
            for place, span in enumerate(spans)
        ),
        marks=tuple(_mark(name, words, LABEL + (at - low) * scale) for name, words, at in marks),
        height=TOP + len(spans) * ROW,
    )


def _mark(name: str, words: str, x: float) -> Mark:
    """Its words stay inside the drawing's own column."""
    middle = LABEL + 40 <= x <= LABEL + DRAWN - 40
    anchor = "middle" if middle else "start" if x < LABEL + 40 else "end"
    return Mark(name=name, words=words, x=round(x, 1), anchor=anchor)
