"""Bit-by-bit capacities against plain numbers for each slot."""

from random import Random

import pytest

from planner.scheduling.dispatch.capacity import at_least, given, level, taken
from planner.scheduling.dispatch.timeline import slots_between

WIDTH = 12


def amounts(planes: tuple[int, ...]) -> list[int]:
    return [sum((plane >> slot & 1) << place for place, plane in enumerate(planes)) for slot in range(WIDTH)]


@pytest.mark.parametrize("capacity", [1, 2, 3, 7, 24])
def test_taking_and_giving_back_counts_as_plain_numbers_do(capacity: int) -> None:
    random = Random(capacity)
    planes, plain = level(capacity, slots_between(0, WIDTH)), [capacity] * WIDTH
    claims: list[tuple[int, int]] = []
    for _ in range(60):
        start = random.randrange(WIDTH)
        slots, units = slots_between(start, random.randint(start + 1, WIDTH)), random.randint(1, capacity)
        fits = slots & ~at_least(planes, units) == 0
        assert fits == all(plain[slot] >= units for slot in range(WIDTH) if slots >> slot & 1)
        if fits:
            claims.append((slots, units))
            planes = taken(planes, slots, units)
        elif claims:
            slots, units = claims.pop(random.randrange(len(claims)))
            planes = given(planes, slots, units)
            units = -units
        else:
            continue
        plain = [left - units if slots >> slot & 1 else left for slot, left in enumerate(plain)]
        assert amounts(planes) == plain


def test_more_than_there_can_ever_be_is_nowhere_left() -> None:
    assert at_least(level(3, 0b111), 4) == 0
    assert at_least(level(1, 0b111), 2) == 0
