"""Timelines against the same questions asked slot by slot."""

from random import Random

import pytest

from planner.scheduling.dispatch.timeline import (
    first_slot,
    last_slot,
    reached_after,
    reached_through,
    slots_between,
    starts_of_runs,
    stretches,
)

WIDTH = 40


def timeline(random: Random, odds: float) -> int:
    return sum(1 << slot for slot in range(WIDTH) if random.random() < odds)


def holds(slots: int, slot: int) -> bool:
    return bool(slots >> slot & 1)


def test_slots_between_holds_the_start_and_not_the_end() -> None:
    assert slots_between(2, 5) == 0b11100
    assert slots_between(5, 5) == 0
    assert slots_between(6, 5) == 0


@pytest.mark.parametrize("length", [1, 2, 3, 5, 8, 13])
def test_starts_of_runs_are_those_with_all_slots_after(length: int) -> None:
    free = timeline(Random(length), 0.8)
    expected = [s for s in range(WIDTH) if all(holds(free, s + ahead) for ahead in range(length))]
    assert [s for s in range(WIDTH) if holds(starts_of_runs(free, length), s)] == expected


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize(("least", "greatest"), [(0, 0), (0, 4), (2, 2), (1, 9), (0, None), (3, None)])
def test_reached_after_is_any_end_within_the_wait(seed: int, least: int, greatest: int | None) -> None:
    ends = timeline(Random(seed), 0.1)
    reached = reached_after(ends, least, greatest, WIDTH)
    for slot in range(WIDTH):
        waits = [slot - end for end in range(slot + 1) if holds(ends, end)]
        assert holds(reached, slot) == any(
            wait >= least and (greatest is None or wait <= greatest) for wait in waits
        )


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize(("least", "greatest"), [(0, 0), (0, 4), (2, 2), (1, 9), (0, None), (3, None)])
def test_reached_through_waits_only_where_all_slots_between_are_free(
    seed: int, least: int, greatest: int | None
) -> None:
    random = Random(seed)
    ends, free = timeline(random, 0.15), timeline(random, 0.8)
    reached = reached_through(ends, least, greatest, free)
    for slot in range(WIDTH):
        expected = any(
            holds(ends, end)
            and slot - end >= least
            and (greatest is None or slot - end <= greatest)
            and all(holds(free, between) for between in range(end, slot))
            for end in range(slot + 1)
        )
        assert holds(reached, slot) == expected


def test_a_wait_that_may_not_be_as_long_as_it_must_reaches_nothing() -> None:
    assert reached_after(0b1, 3, 2, WIDTH) == 0
    assert reached_through(0b1, 3, 2, slots_between(0, WIDTH)) == 0


def test_first_last_and_stretches_of_a_timeline() -> None:
    slots = slots_between(3, 6) | slots_between(9, 10)
    assert (first_slot(slots), last_slot(slots)) == (3, 9)
    assert list(stretches(slots)) == [(3, 6), (9, 10)]
    assert list(stretches(0)) == []
