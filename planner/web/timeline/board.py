"""The whole board: lanes with their hatching and bars, in pixels, for the template to write down."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from zoneinfo import ZoneInfo

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.web.timeline.bars import Bar, Wording, bar_of
from planner.web.timeline.items import Item, LaneKind, lane_items
from planner.web.timeline.ruler import Tick, ruler
from planner.web.timeline.scale import Scale, Zoom
from planner.web.timeline.shades import ShadeKind, lane_shades

LANE_HEIGHT = 52
PAPER_WIDTH, LABELS_WIDTH = 1020, 154
"""An A4 sheet on its side within its margins, and the lanes' names [px]."""
PAPER_PERCENTS = (100, 85, 70, 60, 50)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """A stretch of a lane that can't be used [px]."""

    kind: ShadeKind
    x: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """One row of the board [px]."""

    id: str
    label: str
    y: int
    height: int
    hatches: tuple[Hatch, ...]
    bars: tuple[Bar, ...]
    ghosts: tuple[Bar, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """All that the template draws."""

    kind: LaneKind
    zoom: Zoom
    width: float
    height: int
    ticks: tuple[Tick, ...]
    lanes: tuple[Lane, ...]
    now_x: float | None
    minute_width: float

    @property
    def on_paper(self) -> str:
        """At how much of its size paper shows its whole width [%]; `none` where it cannot."""
        room = PAPER_WIDTH / (LABELS_WIDTH + self.width)
        return next((str(percent) for percent in PAPER_PERCENTS if percent <= 100 * room), "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """How the reader wants to see the plan; `now` in minutes after the horizon's start."""

    kind: LaneKind
    zoom: Zoom
    now: int
    window: Span
    lane_names: Mapping[str, str] = field(default_factory=dict)
    ghost_of: Schedule | None = None


def board(problem: BayProblem, schedule: Schedule, view: View, wording: Wording) -> Board:
    """Lay the schedule out; `view.ghost_of` is another plan to be outlined behind it."""
    scale = Scale(span=view.window, zoom=view.zoom)
    bars = _bars(problem, schedule, view, wording, scale)
    ghosts = _bars(problem, view.ghost_of, view, wording, scale) if view.ghost_of else {}
    lanes = tuple(
        _lane(problem, view, scale, (lane, row), (bars.get(lane, ()), ghosts.get(lane, ())))
        for row, lane in enumerate(_lane_ids(problem, view.kind))
    )
    inside = view.window.start <= view.now < view.window.end
    return Board(
        kind=view.kind,
        zoom=view.zoom,
        width=scale.width,
        height=LANE_HEIGHT * len(lanes),
        ticks=tuple(ruler(scale, problem.origin, ZoneInfo(problem.time_zone))),
        lanes=lanes,
        now_x=scale.x(view.now) if inside else None,
        minute_width=view.zoom.pixels_per_hour / 60,
    )


def _lane_ids(problem: BayProblem, kind: LaneKind) -> tuple[str, ...]:
    match kind:
        case LaneKind.HEATER_SETS:
            return tuple(heater_set.id for heater_set in problem.heater_sets)
        case LaneKind.POSITIONS:
            return tuple(position.id for position in problem.positions)
    return tuple(technician.id for technician in problem.technicians)


def _bars(
    problem: BayProblem, schedule: Schedule, view: View, wording: Wording, scale: Scale
) -> dict[str, tuple[Bar, ...]]:
    found: dict[str, tuple[Bar, ...]] = {}
    items = sorted(lane_items(problem, schedule, view.kind), key=_reading_order)
    for item in items:
        if scale.span.meets(item.span):
            found[item.lane] = (*found.get(item.lane, ()), bar_of(item, scale, wording))
    return found


def _reading_order(item: Item) -> tuple[str, bool, Span]:
    return item.lane, item.is_watch, item.span


def _lane(
    problem: BayProblem,
    view: View,
    scale: Scale,
    place: tuple[str, int],
    content: tuple[tuple[Bar, ...], tuple[Bar, ...]],
) -> Lane:
    lane, row = place
    shades = lane_shades(problem, view.kind, lane, scale.span)
    clipped = ((shade.kind, scale.clip(shade.span)) for shade in shades)
    return Lane(
        id=lane,
        label=view.lane_names.get(lane, lane),
        y=row * LANE_HEIGHT,
        height=LANE_HEIGHT,
        hatches=tuple(
            Hatch(kind=kind, x=scale.x(span.start), width=scale.length(span))
            for kind, span in clipped
            if span
        ),
        bars=content[0],
        ghosts=content[1],
    )
