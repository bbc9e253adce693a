"""Bars and curves as numbers that a template draws; their values stand in a table beside each."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.domain.money import Money
from planner.selectors.accounts.words import LifeEstimate, Swing

WIDTH, ROW, LABEL = 720, 34, 230
CURVE_WIDTH, CURVE_HEIGHT = 640, 220


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar: its label, its amount as text, and its box [px]; `mark` is where its value is written."""

    label: str
    words: str
    x: float
    y: float
    width: float
    below: bool
    mark: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BarChart:
    """Bars from a common zero line [px]."""

    bars: tuple[Bar, ...]
    height: int
    zero: float
    width: int = WIDTH


def bars(rows: Iterable[tuple[str, Money]]) -> BarChart:
    """One bar for each amount, to the left of zero where it is below nothing."""
    pairs = list(rows)
    spans = [(min(float(amount.amount), 0.0), max(float(amount.amount), 0.0)) for _, amount in pairs]
    words = [str(amount.rounded()) for _, amount in pairs]
    return _chart([label for label, _ in pairs], spans, words)


def swing_bars(swings: Sequence[Swing]) -> BarChart:
    """One bar for each swing, from the lower saving to the higher."""
    spans, words = [], []
    for swing in swings:
        low, high = sorted((swing.saving_low, swing.saving_high), key=lambda money: money.amount)
        spans.append((float(low.amount), float(high.amount)))
        words.append(f"{low.rounded()} – {high.rounded()}")
    return _chart([str(swing.lever) for swing in swings], spans, words)


def _chart(labels: list[str], spans: list[tuple[float, float]], words: list[str]) -> BarChart:
    low = min((0.0, *(start for start, _ in spans)))
    high = max((0.0, *(end for _, end in spans)))
    scale = (WIDTH - LABEL) / ((high - low) or 1.0)
    drawn = []
    for place, (label, (start, end), text) in enumerate(zip(labels, spans, words, strict=True)):
        x, width = LABEL + (start - low) * scale, max((end - start) * scale, 1.0)
        mark = min(max(x + 4, LABEL + 4), WIDTH - 7.5 * len(text))
        drawn.append(
            Bar(
                label=label,
                words=text,
                x=round(x, 1),
                y=place * ROW,
                width=round(width, 1),
                below=end <= 0,
                mark=round(mark, 1),
            )
        )
    return BarChart(bars=tuple(drawn), height=len(drawn) * ROW, zero=round(LABEL - low * scale, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeRow:
    """The share still running after so many hours, with its band [1]."""

    hours: int
    share: float
    low: float
    high: float
    fitted: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeChart:
    """A survival curve as steps, its band, and the fitted law, as points of a drawing [px]."""

    steps: str
    band: str
    fitted: str
    rows: tuple[LifeRow, ...]
    longest: int
    width: int = CURVE_WIDTH
    height: int = CURVE_HEIGHT


def life_chart(life: LifeEstimate) -> LifeChart | None:
    """The drawing of a life that rests on records; None where it is assumed."""
    if life.records is None:
        return None
    curve, fit = life.records.curve, life.records.fit
    rows = tuple(
        LifeRow(hours=round(float(h)), share=float(s), low=float(lo), high=float(hi), fitted=fit.at(float(h)))
        for h, s, lo, hi in zip(curve.lengths, curve.share, curve.low, curve.high, strict=True)
    )
    longest = max(rows[-1].hours, 1)
    upper, lower = _steps(rows, longest, "high"), _steps(rows, longest, "low")
    return LifeChart(
        steps=_points(_steps(rows, longest, "share")),
        band=_points([*upper, *reversed(lower)]),
        fitted=_points([(0.0, 0.0), *(_at(row.hours, row.fitted, longest) for row in rows)]),
        rows=rows,
        longest=longest,
    )


def _at(hours: float, share: float, longest: int) -> tuple[float, float]:
    return hours / longest * CURVE_WIDTH, (1 - share) * CURVE_HEIGHT


def _steps(rows: Sequence[LifeRow], longest: int, name: str) -> list[tuple[float, float]]:
    """Level from record to record, then down."""
    points, level = [(0.0, 0.0)], 1.0
    for row in rows:
        points.append(_at(row.hours, level, longest))
        level = getattr(row, name)
        points.append(_at(row.hours, level, longest))
    return points


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
