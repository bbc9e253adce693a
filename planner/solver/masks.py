"""Calendars as integers: bit `s` of a mask says that grid step `s` is free.

Whole horizons are checked with a few integer operations: a stage fits where its mask, eroded by its
length, has a bit; what follows a wait may start where the ends, spread by the wait, have one.
"""

from collections.abc import Iterable, Iterator

Mask = int


def stretch(first: int, last: int) -> Mask:
    """The steps from `first` up to, not including, `last`; nothing where they are the wrong way round."""
    first = max(first, 0)
    return ((1 << (last - first)) - 1) << first if last > first else 0


def union(stretches: Iterable[tuple[int, int]]) -> Mask:
    """The steps of all the half-open stretches together."""
    mask = 0
    for first, last in stretches:
        mask |= stretch(first, last)
    return mask


def moved(mask: Mask, steps: int) -> Mask:
    """The mask some steps later; earlier where `steps` is negative, and what falls before 0 is lost."""
    return mask << steps if steps >= 0 else mask >> -steps


def room_for(mask: Mask, steps: int) -> Mask:
    """Where something of that many steps may start and stay inside the mask."""
    have = 1
    while have < steps and mask:
        more = min(have, steps - have)
        mask &= mask >> more
        have += more
    return mask


def spread(mask: Mask, steps: int) -> Mask:
    """Every step from each set one up to `steps` later."""
    have = 0
    while have < steps and mask:
        more = min(have + 1, steps - have)
        mask |= mask << more
        have += more
    return mask


def spread_back(mask: Mask, steps: int) -> Mask:
    """Every step from `steps` before each set one up to it."""
    have = 0
    while have < steps and mask:
        more = min(have + 1, steps - have)
        mask |= mask >> more
        have += more
    return mask


def first_of(mask: Mask) -> int:
    """The earliest set step; -1 where there is none."""
    return (mask & -mask).bit_length() - 1


def last_of(mask: Mask) -> int:
    """The latest set step; -1 where there is none."""
    return mask.bit_length() - 1


def runs(mask: Mask) -> Iterator[tuple[int, int]]:
    """The half-open stretches of set steps, in order."""
    base = 0
    while mask:
        skip = first_of(mask)
        mask >>= skip
        length = first_of(~mask)
        yield base + skip, base + skip + length
        mask >>= length
        base += skip + length
