"""Circles in an order."""

from collections.abc import Mapping


def cycle_find(before: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """One circle of names, its first name again at the end; empty where there is none.

    Walks without recursion: a file may chain thousands of jobs.
    """
    done: set[str] = set()
    for name in before:
        cycle = _walk(name, before, done)
        if cycle:
            return cycle
    return ()


def _walk(first: str, before: Mapping[str, tuple[str, ...]], done: set[str]) -> tuple[str, ...]:
    path: dict[str, None] = {}
    turns = [iter((first,))]
    while turns:
        name = next(turns[-1], None)
        if name is None:
            turns.pop()
            if path:
                done.add(path.popitem()[0])
        elif name in path:
            names = list(path)
            return (*names[names.index(name) :], name)
        elif name not in done:
            path[name] = None
            turns.append(iter(before.get(name, ())))
    return ()
