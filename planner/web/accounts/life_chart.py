"""A survival curve as points of a drawing: records in steps, the fitted law, and the band of each."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from planner.selectors.accounts.words import LifeEstimate

WIDTH, HEIGHT = 640, 220
_ROUND = (1, 2, 5, 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeRow:
    """The share still running after so long, with its band, by records and by the fitted law [1]."""

    length: int
    share: float
    low: float
    high: float
    fitted: float
    fitted_low: float
    fitted_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A length on the axis [px]."""

    x: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeChart:
    """The drawing [px] and the figures beside it; `unit` is that of the lengths."""

    steps: str
    band: str
    fitted: str
    fitted_low: str
    fitted_high: str
    rows: tuple[LifeRow, ...]
    ticks: tuple[Tick, ...]
    unit: str
    width: int = WIDTH
    height: int = HEIGHT


def life_chart(life: LifeEstimate) -> LifeChart | None:
    """The drawing of a life that rests on records; None where it is assumed."""
    if life.records is None:
        return None
    rows = _rows(life)
    longest = max(rows[-1].length, 1)
    upper, lower = _steps(rows, longest, "high"), _steps(rows, longest, "low")
    return LifeChart(
        steps=_points(_steps(rows, longest, "share")),
        band=_points([*upper, *reversed(lower)]),
        fitted=_curve(rows, longest, "fitted"),
        fitted_low=_curve(rows, longest, "fitted_low"),
        fitted_high=_curve(rows, longest, "fitted_high"),
        rows=rows,
        ticks=_ticks(longest),
        unit=life.measure.value,
    )


def _rows(life: LifeEstimate) -> tuple[LifeRow, ...]:
    assert life.records is not None  # noqa: S101 (for the type)
    curve, fit = life.records.curve, life.records.fit
    fitted_low, fitted_high = fit.band(curve.lengths)
    columns = zip(curve.lengths, curve.share, curve.low, curve.high, fitted_low, fitted_high, strict=True)
    return tuple(
        LifeRow(
            length=round(float(length)), share=float(share), low=float(low), high=float(high),
            fitted=fit.at(float(length)), fitted_low=float(fit_low), fitted_high=float(fit_high),
        )
        for length, share, low, high, fit_low, fit_high in columns
    )  # fmt: skip


def _ticks(longest: int) -> tuple[Tick, ...]:
    """Four to ten round lengths."""
    power = 10 ** int(np.log10(max(longest / 4, 1)))
    step = next(power * each for each in reversed(_ROUND) if power * each <= max(longest / 4, 1))
    return tuple(
        Tick(x=round(length / longest * WIDTH, 1), words=f"{length:,}")
        for length in range(0, longest + 1, step)
    )


def _at(length: float, share: float, longest: int) -> tuple[float, float]:
    return length / longest * WIDTH, (1 - share) * HEIGHT


def _curve(rows: Sequence[LifeRow], longest: int, name: str) -> str:
    return _points([(0.0, 0.0), *(_at(row.length, getattr(row, name), longest) for row in rows)])


def _steps(rows: Sequence[LifeRow], longest: int, name: str) -> list[tuple[float, float]]:
    """Level from record to record, then down."""
    points, level = [(0.0, 0.0)], 1.0
    for row in rows:
        points.append(_at(row.length, level, longest))
        level = getattr(row, name)
        points.append(_at(row.length, level, longest))
    return points


def _points(points: Iterable[tuple[float, float]]) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
