"""Technicians who are interchangeable for a while, and the crews that can be drawn from them.

A hands-on stage lies inside one shift, so two technicians with the same skills, the same shift and the
same breaks on one day are interchangeable on that day. Such shift windows are pooled; windows of
different days that do not meet are strung together into one `CrewPool`, since the time of a stage tells
its window. A pool is exact: stages that never need more than its technicians at once can always be
handed out to named technicians, earliest start first.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations_with_replacement

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from planner.solver.masks import Mask, stretch, union


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftWindow:
    """One shift on the grid, shared by technicians who are interchangeable during it [steps]."""

    start: int
    end: int
    breaks: tuple[tuple[int, int], ...]
    technicians: tuple[str, ...]

    @property
    def at_work(self) -> Mask:
        """The steps outside its breaks."""
        return stretch(self.start, self.end) & ~union(self.breaks)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewPool:
    """Shift windows that never meet, of technicians with the same skills."""

    id: int
    skills: frozenset[str]
    windows: tuple[ShiftWindow, ...]

    @property
    def most(self) -> int:
        """The greatest number of technicians on shift at once."""
        return max(len(window.technicians) for window in self.windows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """How many technicians from which pools; the ids of the pools, one for each technician, sorted."""

    pools: tuple[int, ...]

    def drawn_from(self, pool: int) -> int:
        """How many of the crew come from that pool."""
        return self.pools.count(pool)


def merged(stretches: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """The same steps as stretches that neither meet nor touch, in order."""
    out: list[tuple[int, int]] = []
    for first, last in sorted(stretches):
        if out and first <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], last))
        else:
            out.append((first, last))
    return tuple(out)


def crew_pools(problem: BayProblem, named: frozenset[str]) -> tuple[CrewPool, ...]:
    """Every technician's shifts, pooled; those in `named` stay in pools of their own.

    Locked work of a technician is cut out of the shift: a stage must lie wholly before or after it.
    """
    windows = _pooled_windows(problem, named)
    chains: list[tuple[frozenset[str], str, list[ShiftWindow]]] = []
    for (skills, owner), window in windows:
        home = next((chain for chain in chains if _fits(chain, skills, owner, window)), None)
        if home is None:
            chains.append((skills, owner, [window]))
        else:
            home[2].append(window)
    return tuple(
        CrewPool(id=index, skills=skills, windows=tuple(chain))
        for index, (skills, _, chain) in enumerate(chains)
    )


def _fits(
    chain: tuple[frozenset[str], str, list[ShiftWindow]],
    skills: frozenset[str],
    owner: str,
    window: ShiftWindow,
) -> bool:
    return chain[:2] == (skills, owner) and chain[2][-1].end <= window.start


def _pooled_windows(
    problem: BayProblem, named: frozenset[str]
) -> list[tuple[tuple[frozenset[str], str], ShiftWindow]]:
    found: dict[tuple[int, int, tuple[tuple[int, int], ...], tuple[str, ...], str], list[str]] = {}
    useful = {stage.skill for job in problem.jobs for stage in job.stages} | {problem.rules.watch_skill}
    for technician in problem.technicians:
        owner = technician.id if technician.id in named else ""
        skills = tuple(sorted(technician.skills & useful))
        for start, end, breaks in _windows_of(problem, technician) if skills else ():
            found.setdefault((start, end, breaks, skills, owner), []).append(technician.id)
    return [
        (
            (frozenset(skills), owner),
            ShiftWindow(start=start, end=end, breaks=breaks, technicians=tuple(members)),
        )
        for (start, end, breaks, skills, owner), members in sorted(found.items())
    ]


def _windows_of(
    problem: BayProblem, technician: Technician
) -> Iterator[tuple[int, int, tuple[tuple[int, int], ...]]]:
    grid = problem.grid_minutes
    busy = merged(locked_steps(problem, technician.id))
    for shift in technician.shifts:
        span = shift.span.inward(grid)
        if span is None:
            continue
        for start, end in _cut(max(span.start // grid, 0), span.end // grid, busy):
            yield start, end, _breaks_inside(shift, grid, start, end)


def _breaks_inside(shift: Shift, grid: int, start: int, end: int) -> tuple[tuple[int, int], ...]:
    steps = ((pause.outward(grid).start // grid, pause.outward(grid).end // grid) for pause in shift.breaks)
    return merged(
        (max(first, start), min(last, end)) for first, last in steps if first < end and start < last
    )


def _cut(start: int, end: int, busy: tuple[tuple[int, int], ...]) -> Iterator[tuple[int, int]]:
    for first, last in busy:
        if last <= start or end <= first:
            continue
        if start < first:
            yield start, first
        start = max(start, last)
    if start < end:
        yield start, end


def locked_steps(problem: BayProblem, technician: str) -> Iterator[tuple[int, int]]:
    """The steps in which locked work holds the technician, whole steps outward."""
    grid = problem.grid_minutes
    for job in problem.locked:
        for stage in job.stages:
            if technician in stage.technicians:
                span = Span(stage.start, stage.end).outward(grid)
                yield span.start // grid, span.end // grid


def crews_of(pools: tuple[CrewPool, ...], skill: str, size: int) -> Iterator[Crew]:
    """Every way to draw a crew of that size and skill from the pools."""
    able = [pool for pool in pools if skill in pool.skills]
    for chosen in combinations_with_replacement(able, size):
        ids = tuple(pool.id for pool in chosen)
        if all(ids.count(pool.id) <= pool.most for pool in set(chosen)):
            yield Crew(pools=ids)
