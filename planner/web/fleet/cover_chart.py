"""The odds of having run out over the days ahead, as lines of a small drawing."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.formats import date_format

from planner.selectors.spare_cover import DAYS_AHEAD, SizeCover

WIDTH, HEIGHT = 640, 200
_LEFT, _BOTTOM = 44, 24
_DAYS_APART = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark of an axis: where it stands, and its words."""

    at: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverChart:
    """Three lines ready for SVG's `points`, and the marks of both axes."""

    without: str
    likely: str
    surely: str
    days: tuple[Mark, ...]
    shares: tuple[Mark, ...]
    left: int = _LEFT
    floor: int = HEIGHT - _BOTTOM
    width: int = WIDTH
    height: int = HEIGHT


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverRow:
    """The same as figures, for who can't see the lines."""

    day: date
    without: float
    likely: float
    surely: float


def cover_chart(cover: SizeCover) -> CoverChart | None:
    """The drawing; None where the demand is not known."""
    if cover.without is None or cover.likely is None or cover.surely is None:
        return None
    return CoverChart(
        without=_line(cover.without.tolist()),
        likely=_line(cover.likely.tolist()),
        surely=_line(cover.surely.tolist()),
        days=tuple(
            Mark(at=_x(day), words=date_format(cover.today + timedelta(days=day - 1), "j M"))
            for day in range(1, DAYS_AHEAD + 1, _DAYS_APART)
        ),
        shares=tuple(Mark(at=_y(share / 100), words=f"{share} %") for share in (0, 10, 50, 100)),
    )


def cover_rows(cover: SizeCover) -> list[CoverRow]:
    """Every tenth day in figures."""
    if cover.without is None or cover.likely is None or cover.surely is None:
        return []
    return [
        CoverRow(
            day=cover.today + timedelta(days=day),
            without=float(cover.without[day]),
            likely=float(cover.likely[day]),
            surely=float(cover.surely[day]),
        )
        for day in range(_DAYS_APART - 1, DAYS_AHEAD, _DAYS_APART)
    ]


def _line(odds: Sequence[float]) -> str:
    return " ".join(f"{_x(day)},{_y(share)}" for day, share in enumerate(odds, start=1))


def _x(day: int) -> float:
    return round(_LEFT + (day - 1) / (DAYS_AHEAD - 1) * (WIDTH - _LEFT - 8), 1)


def _y(share: float) -> float:
    return round((HEIGHT - _BOTTOM) - share * (HEIGHT - _BOTTOM - 8), 1)
