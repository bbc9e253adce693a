"""Timelines: sets of grid slots as whole numbers, where bit `n` stands for slot `n`.

Python's integers make an exact calendar cheap: a week of 5-minute slots is one number of 2016 bits, and each
question ("where does a work of 9 slots fit?") is a handful of shifts.
"""

from collections.abc import Iterator


def slots_between(start: int, end: int) -> int:
    """The timeline of the slots from `start` up to, not including, `end`."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


def starts_of_runs(timeline: int, length: int, covered: int = 1) -> int:
    """The slots from which the next `length` slots are all in `timeline` (by doubling: log2 steps).

    A `timeline` that holds the starts of runs of `covered` slots spares the steps up to there.
    """
    while covered * 2 <= length:
        timeline &= timeline >> covered
        covered *= 2
    return timeline & (timeline >> (length - covered)) if covered < length else timeline


def reached_after(ends: int, least: int, greatest: int | None, width: int) -> int:
    """The slots that lie from `least` to `greatest` slots after one of `ends` (None: any number after)."""
    if not ends:
        return 0
    earliest = ends << least if least >= 0 else ends >> -least
    if greatest is None:
        return slots_between(first_slot(earliest), width) if earliest else 0
    if greatest < least:
        return 0
    return _spread(earliest, greatest - least)


def _spread(timeline: int, further: int) -> int:
    """Each slot of `timeline` and the `further` slots after it."""
    covered = 1
    while covered * 2 <= further + 1:
        timeline |= timeline << covered
        covered *= 2
    return timeline | (timeline << (further + 1 - covered))


def reached_through(ends: int, least: int, greatest: int | None, free: int) -> int:
    """As `reached_after`, where every slot from the end up to the slot reached must be in `free`."""
    least = max(least, 0)
    moved = (ends & starts_of_runs(free, least)) << least if least else ends
    if greatest is None:
        return _filled(moved, free)
    return _flooded(moved, greatest - least, free) if greatest >= least else 0


def _filled(seeds: int, free: int) -> int:
    """The slots that can be waited for from `seeds` through free ones, the first blocked slot included.

    Adding a seed to a run of ones carries to the run's end, which clears what the seed can reach.
    """
    inside = seeds & free
    inside |= free & ~(free + inside)
    return inside | (inside << 1) | seeds


def _flooded(seeds: int, steps: int, free: int) -> int:
    """The slots that can be waited for from `seeds` through at most `steps` free ones."""
    reached, run, size = seeds, free, 1
    while size <= steps:
        reached |= (reached & run) << size
        steps -= size
        run &= run >> size
        size *= 2
    return reached | ((reached & starts_of_runs(free, steps)) << steps) if steps else reached


def first_slot(timeline: int) -> int:
    """The earliest slot of a timeline that has one."""
    return (timeline & -timeline).bit_length() - 1


def last_slot(timeline: int) -> int:
    """The latest slot of a timeline that has one."""
    return timeline.bit_length() - 1


def nearest_slot(timeline: int, slot: int) -> int:
    """The slot of a timeline that has one which is nearest to `slot`; of two as near the earlier."""
    later = timeline >> max(slot, 0)
    earlier = timeline & slots_between(0, slot)
    if not later:
        return last_slot(earlier)
    following = max(slot, 0) + first_slot(later)
    if not earlier:
        return following
    before = last_slot(earlier)
    return before if slot - before <= following - slot else following


def stretches(timeline: int) -> Iterator[tuple[int, int]]:
    """The runs of slots in `timeline` as (start, end), in order, ends not included."""
    while timeline:
        start = first_slot(timeline)
        shifted = timeline >> start
        length = first_slot(~shifted)
        yield start, start + length
        timeline = (shifted >> length) << (start + length)
