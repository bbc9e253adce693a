"""A technician's day, from the plan."""

from planner.domain.bay_time import Span
from planner.web.cautions import CAUTIONS, cautions_for
from planner.web.sheet.lines import HandOver, LineKind, Sheet, shift_sheets
from planner.web.timeline.appearance import Look
from tests.lib import one_cure as bay

FIRST_DAY = Span(0, 1440)


def _sheet(technician: str) -> Sheet:
    sheets = shift_sheets(bay.problem(), bay.schedule(), FIRST_DAY)
    return next(sheet for sheet in sheets if sheet.technician == technician)


def test_there_is_a_sheet_for_each_shift_that_begins_in_the_day() -> None:
    sheets = shift_sheets(bay.problem(), bay.schedule(), FIRST_DAY)
    assert [(sheet.technician, sheet.shift) for sheet in sheets] == [
        ("ana", Span(0, 720)),
        ("ben", Span(0, 720)),
    ]


def test_work_watch_and_breaks_stand_in_order() -> None:
    lines = _sheet("ana").lines
    assert [(line.kind, line.span.start) for line in lines] == [
        (LineKind.WORK, 0),
        (LineKind.WATCH, 120),
        (LineKind.BREAK, 300),
    ]


def test_a_watch_names_who_takes_over_and_from_whom() -> None:
    given = next(line for line in _sheet("ana").lines if line.kind is LineKind.WATCH)
    taken = next(line for line in _sheet("ben").lines if line.kind is LineKind.WATCH)
    assert given.given_to == (HandOver(job="WO-0001", other="ben"),)
    assert taken.taken_from == (HandOver(job="WO-0001", other="ana"),)
    assert given.taken_from == taken.given_to == ()


def test_only_the_technicians_own_stages_stand_on_the_sheet() -> None:
    assert [line.stage.name for line in _sheet("ben").lines if line.stage] == ["rig", "strip"]


def test_cautions_come_once_and_only_where_they_matter() -> None:
    assert cautions_for([Look.STRIP, Look.STRIP]) == CAUTIONS[Look.STRIP]
    assert set(CAUTIONS) == set(Look)
    words = " ".join(str(caution) for caution in cautions_for(_sheet("ben").looks))
    assert "pins stay in until ALL the air is out" in words
