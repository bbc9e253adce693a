"""Masks: calendars as whole numbers."""

from planner.solver.masks import first_of, last_of, room_for, runs, spread, spread_back, stretch, union


def test_a_stretch_holds_its_first_step_and_not_its_last() -> None:
    assert list(runs(stretch(2, 5))) == [(2, 5)]
    assert stretch(5, 2) == 0
    assert list(runs(stretch(-3, 2))) == [(0, 2)]


def test_room_is_where_a_whole_length_fits() -> None:
    # 4 steps free from 2 on: three steps fit from 2 and from 3
    assert list(runs(room_for(union([(2, 6), (8, 10)]), 3))) == [(2, 4)]


def test_spreading_reaches_so_many_steps_on_and_back() -> None:
    assert list(runs(spread(stretch(3, 4), 2))) == [(3, 6)]
    assert list(runs(spread_back(stretch(3, 4), 2))) == [(1, 4)]


def test_first_and_last() -> None:
    mask = union([(4, 5), (9, 12)])
    assert (first_of(mask), last_of(mask), first_of(0), last_of(0)) == (4, 11, -1, -1)
