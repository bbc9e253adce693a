"""The board: lanes, hatching, bars and their words."""

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from planner.domain.bay_time import Span
from planner.web.timeline.appearance import Look
from planner.web.timeline.bars import Wording, bar_of
from planner.web.timeline.board import Board, Lane, View, board
from planner.web.timeline.items import Item, LaneKind
from planner.web.timeline.scale import Scale, Zoom
from planner.web.timeline.shades import gaps
from tests.lib import one_cure as bay

_BOTH_DAYS = Span(0, 2880)


def _board(kind: LaneKind, window: Span = _BOTH_DAYS, zoom: Zoom = Zoom.DAY, **wording: object) -> Board:
    problem = bay.problem()
    view = View(kind=kind, zoom=zoom, now=60, window=window, ghost_of=bay.schedule(shift=60))
    words = Wording(
        origin=problem.origin, zone=ZoneInfo(problem.time_zone), job_names={"WO-0001": "T-77"},
        names={"ana": "Ana Pell"}, **wording,  # type: ignore[arg-type]
    )  # fmt: skip
    return board(problem, bay.schedule(), view, words)


def _lane(board: Board, lane: str) -> Lane:
    return next(each for each in board.lanes if each.id == lane)


def test_a_heat_block_is_one_bar_of_five_pieces_on_its_set() -> None:
    (bar,) = _lane(_board(LaneKind.HEATER_SETS), "set-a").bars
    assert [piece.look for piece in bar.pieces] == ["rig", "heat-up", "cure", "cool-down", "strip"]
    # 07:30 is 90 min after the start; 38 px an hour: 57 px. The block lasts 300 min: 190 px.
    assert (bar.x, bar.width, bar.stage) == (57.0, 190.0, "rig")
    assert sum(piece.width for piece in bar.pieces) == pytest.approx(bar.width)


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (345, "prepare · WO-0007 · 27.00R49"),  # 28 letters of 7 px and 10 px beside them: 206 of 218 px
        (300, "prepare · WO-0007"),  # 17 letters: 129 of 190 px
        (100, "WO-0007"),  # 7 letters: 59 of 63 px
        (65, "0007"),  # 4 letters: 38 of 41 px
        (30, "7"),  # 1 letter: 17 of 19 px
        (20, ""),  # 13 px
    ],
)
def test_words_on_a_bar_are_never_cut(minutes: int, words: str) -> None:
    stage = replace(bay.schedule().jobs[0].stages[0], name="prepare", start=0, end=minutes)
    item = Item(
        jobs=("WO-0001",), lane="ana", span=stage.span, stages=(stage,), looks=(Look.HANDS_ON,)
    )  # fmt: skip
    names = {"WO-0001": "WO-0007 · 27.00R49"}
    wording = Wording(origin=bay.problem().origin, zone=ZoneInfo("UTC"), job_names=names)
    assert bar_of(item, Scale(span=_BOTH_DAYS, zoom=Zoom.DAY), wording).label == words


def test_each_position_shows_its_own_stay() -> None:
    board = _board(LaneKind.POSITIONS)
    assert [bar.stage for bar in _lane(board, "p1").bars] == ["prepare"]
    assert [bar.stage for bar in _lane(board, "c1").bars] == ["rig"]


def test_a_technician_has_stages_and_the_watch_below_them() -> None:
    bars = _lane(_board(LaneKind.TECHNICIANS, share_lane_with_watch=True), "ana").bars
    assert [(bar.is_watch, bar.stage) for bar in bars] == [(False, "prepare"), (True, "")]
    assert bars[0].y + bars[0].height <= bars[1].y
    assert bars[1].aria == "Ana Pell attends T-77, Mon 08:00 to Mon 10:00"


def test_a_bar_says_who_where_when_and_what_is_special() -> None:
    (bar,) = _lane(_board(LaneKind.HEATER_SETS, late=frozenset({"WO-0001"})), "set-a").bars
    assert bar.aria.startswith("T-77, set-a, Mon 07:30 – Mon 12:30, late. rig 07:30 – 08:00 (ben)")
    assert bar.late
    assert not bar.locked


def test_the_other_plan_stands_behind_as_an_outline() -> None:
    (ghost,) = _lane(_board(LaneKind.HEATER_SETS), "set-a").ghosts
    assert ghost.x == 95.0  # 150 min at 38 px an hour


def test_closures_breaks_isolations_and_nights_are_hatched() -> None:
    heater_set = {hatch.kind: hatch for hatch in _lane(_board(LaneKind.HEATER_SETS), "set-a").hatches}
    assert set(heater_set) == {"off-shift", "closed", "isolated"}
    assert heater_set["isolated"].x == 443.3  # 700 min × 38 / 60
    technician = _lane(_board(LaneKind.TECHNICIANS), "ana").hatches
    assert [hatch.kind for hatch in technician] == ["off-shift", "off-shift", "break", "break"]


def test_what_lies_outside_the_window_is_left_out() -> None:
    board = _board(LaneKind.HEATER_SETS, window=Span(1440, 2880))
    assert _lane(board, "set-a").bars == ()
    assert board.now_x is None


@pytest.mark.parametrize(
    ("spans", "open_spans"),
    [
        ([], [Span(0, 100)]),
        ([Span(0, 100)], []),
        ([Span(-5, 20), Span(10, 30), Span(80, 200)], [Span(30, 80)]),
        ([Span(150, 160)], [Span(0, 100)]),
    ],
)
def test_gaps_are_what_no_span_covers(spans: list[Span], open_spans: list[Span]) -> None:
    assert list(gaps(spans, Span(0, 100))) == open_spans


def test_the_clock_of_the_wording_is_the_bays() -> None:
    words = Wording(origin=datetime(2026, 11, 22, 22, 0, tzinfo=UTC), zone=ZoneInfo("Australia/Perth"))
    assert words.clock(90) == "Mon 07:30"


@pytest.mark.parametrize(
    ("days", "on_paper"),
    # 38 px an hour and 154 px of names on 1020 px: half a day takes 610 px, a day 1066 px, three 2890 px.
    [(0.5, "100"), (1, "85"), (3, "none")],
)
def test_paper_draws_the_whole_width_or_nothing(days: float, on_paper: str) -> None:
    assert _board(LaneKind.HEATER_SETS, Span(0, int(days * 1440))).on_paper == on_paper
