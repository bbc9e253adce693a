"""The curve of a build: the best score and the proven bound over time, as points of a small drawing."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log10

WIDTH, HEIGHT = 320, 96


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Two step lines, ready for SVG's `points`."""

    score: str
    bound: str
    width: int = WIDTH
    height: int = HEIGHT


def curve_of(
    points: Sequence[Sequence[float | None]], seconds: float, elapsed_seconds: float
) -> Curve | None:
    """From `[seconds, lateness, bound]` as they came, drawn up to now in the time that there is.

    Heights are on a log scale, for scores fall by powers.
    """
    known = [(at, score, bound) for at, score, bound in points if at is not None and score is not None]
    if not known:
        return None
    top = max(_height(score) for _, score, _ in known) or 1.0
    now = max(elapsed_seconds, known[-1][0])
    longest = max(seconds, now, 1.0)
    return Curve(
        score=_steps([(at, score) for at, score, _ in known], now, longest, top),
        bound=_steps([(at, bound or 0.0) for at, _, bound in known], now, longest, top),
    )


def _height(value: float) -> float:
    return log10(1 + max(0.0, value))


def _steps(line: list[tuple[float, float]], now: float, longest: float, top: float) -> str:
    """A value holds until the next one comes, the last until now."""
    marks: list[str] = []
    y = None
    for at, value in line:
        x = round(at / longest * WIDTH, 1)
        if y is not None:
            marks.append(f"{x},{y}")
        y = round((HEIGHT - 4) - _height(value) / top * (HEIGHT - 8), 1)
        marks.append(f"{x},{y}")
    return " ".join([*marks, f"{round(now / longest * WIDTH, 1)},{y}"])
