"""When technicians can start work: shifts, breaks and pauses on a 15-minute grid."""

from planner.domain.bay_time import Span
from planner.domain.resources import Shift, Technician
from planner.scheduling.dispatch.calendar import WorkCalendar, paused_starts, work_calendar
from planner.scheduling.dispatch.grid import Grid
from planner.scheduling.dispatch.timeline import slots_between, stretches

GRID = Grid(minutes=15, first=0, end=96, width=100)


def calendar(*shifts: Shift, through_breaks: bool = False) -> WorkCalendar:
    technician = Technician(id="Ada", skills=frozenset({"cure"}), shifts=shifts)
    return work_calendar(technician, GRID, "cure", through_breaks)


def test_a_shift_shrinks_and_a_break_grows_to_the_grid() -> None:
    # 06:03 to 09:58 is slots 25 to 38; the break 08:05 to 08:20 is slots 32 and 33.
    one = calendar(Shift(span=Span(363, 598), breaks=(Span(485, 500),)))
    assert list(stretches(one.starts(1))) == [(25, 32), (34, 39)]


def test_work_that_may_not_pause_fits_between_breaks() -> None:
    one = calendar(Shift(span=Span(360, 600), breaks=(Span(480, 495),)))
    # 8 slots before the break, 7 after it: a work of 8 slots has one start.
    assert list(stretches(one.starts(8))) == [(24, 25)]


def test_work_stays_in_one_of_two_shifts_that_touch() -> None:
    one = calendar(Shift(span=Span(360, 480)), Shift(span=Span(480, 600)))
    assert list(stretches(one.starts(8))) == [(24, 25), (32, 33)]


def test_pausable_work_lasts_the_break_longer_and_neither_starts_nor_ends_in_it() -> None:
    one = calendar(Shift(span=Span(360, 600), breaks=(Span(480, 495),)))
    # Slots 24 to 31 and 33 to 39: 4 slots of work last 4, or 5 from slots 29 to 31.
    assert paused_starts((one,), 4) == (
        (4, slots_between(24, 29) | slots_between(33, 37)),
        (5, slots_between(29, 32)),
    )


def test_a_crew_pauses_in_the_breaks_of_each_of_its_members() -> None:
    early = calendar(Shift(span=Span(360, 600), breaks=(Span(420, 435),)))
    late = calendar(Shift(span=Span(360, 600), breaks=(Span(480, 495),)))
    # Twelve of the slots 24 to 39 but 28 and 32: from 24 and 25 both pauses lie inside.
    assert dict(paused_starts((early, late), 12))[14] == slots_between(24, 27)


def test_attending_follows_the_rule_on_breaks_and_asks_for_the_skill() -> None:
    shift = Shift(span=Span(360, 600), breaks=(Span(480, 495),))
    assert list(stretches(calendar(shift).attending)) == [(24, 32), (33, 40)]
    assert list(stretches(calendar(shift, through_breaks=True).attending)) == [(24, 40)]
    unskilled = Technician(id="Bea", skills=frozenset({"prep"}), shifts=(shift,))
    assert work_calendar(unskilled, GRID, "cure", through_breaks=True).attending == 0
