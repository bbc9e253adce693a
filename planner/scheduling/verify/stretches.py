"""Arithmetic on sets of spans: sorted, disjoint stretches of bay time."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from planner.domain.bay_time import Span

Stretches = tuple[Span, ...]


def merged(spans: Iterable[Span]) -> Stretches:
    """The same minutes as sorted stretches that neither meet nor touch."""
    result: list[Span] = []
    for span in sorted(span for span in spans if span.minutes):
        if result and span.start <= result[-1].end:
            result[-1] = Span(result[-1].start, max(result[-1].end, span.end))
        else:
            result.append(span)
    return tuple(result)


def gaps(stretches: Stretches, within: Span) -> Stretches:
    """The minutes of `within` that none of the stretches has."""
    bounded = [Span(within.start, within.start), *shared(stretches, (within,)), Span(within.end, within.end)]
    return tuple(Span(one.end, two.start) for one, two in pairwise(bounded) if one.end < two.start)


def shared(one: Stretches, other: Stretches) -> Stretches:
    """The minutes that both have."""
    result = []
    left, right = list(reversed(one)), list(reversed(other))
    while left and right:
        start, end = max(left[-1].start, right[-1].start), min(left[-1].end, right[-1].end)
        if start < end:
            result.append(Span(start, end))
        (left if left[-1].end < right[-1].end else right).pop()
    return tuple(result)


def missing(needed: Stretches, given: Stretches) -> Stretches:
    """The minutes that are needed and not given."""
    return tuple(gap for span in needed for gap in gaps(shared(given, (span,)), span))


def length(stretches: Stretches) -> int:
    """How long they are together [min]."""
    return sum(span.minutes for span in stretches)


def clashes(uses: Iterable[tuple[Span, str]]) -> Iterator[tuple[tuple[Span, str], tuple[Span, str]]]:
    """Pairs of labelled uses that share a minute: each use with the one before that ends last."""
    last: tuple[Span, str] | None = None
    for use in sorted(uses):
        if last is not None and use[0].start < last[0].end:
            yield last, use
        if last is None or use[0].end > last[0].end:
            last = use
