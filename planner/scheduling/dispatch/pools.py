"""Pools of positions and of heater sets that no rule of the problem tells apart.

Stays on interchangeable positions are intervals: where at no slot more of them meet than the pool has
members, they can be shared out afterwards (an interval graph needs as many colours as its largest clique).
The same holds for sets, with the turnaround as part of the interval.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet
from planner.scheduling.dispatch.grid import Grid


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacePool:
    """Interchangeable positions; `open` holds the slots in which no closure meets them."""

    members: tuple[str, ...]
    open: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPool:
    """Interchangeable heater sets, with what each takes of the supply in whole units."""

    members: tuple[str, ...]
    open: int
    turnaround: int
    power: int
    channels: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """The limits on what is energised, in whole units (None: no limit), and when the supply is on."""

    power: int | None
    channels: int | None
    on: int


def place_pools(problem: BayProblem, grid: Grid) -> tuple[PlacePool, ...]:
    """All positions, in pools; a position that locked work holds is a pool of its own."""
    named = {stage.position for job in problem.locked for stage in job.stages}
    pools: dict[object, list[str]] = {}
    for position in problem.positions:
        users = frozenset(
            (job.id, kind)
            for job in problem.jobs
            for kind, ids in job.positions.items()
            if position.id in ids
        )
        own = position.id if position.id in named else None
        pools.setdefault((users, frozenset(position.closed), own), []).append(position.id)
    closed = {position.id: position.closed for position in problem.positions}
    return tuple(
        PlacePool(members=tuple(members), open=grid.horizon & ~_around(grid, closed[members[0]]))
        for members in pools.values()
    )


def supply_of(problem: BayProblem, grid: Grid) -> tuple[Supply, Fraction]:
    """The supply, and the kilowatts in one unit of its power."""
    limit = problem.rules.power_limit_kw
    unit = _unit_kw(one.power_kw for one in problem.heater_sets)
    supply = Supply(
        power=None if limit is None else int(_exact(limit) / unit),
        channels=problem.rules.channel_limit,
        on=~_around(grid, problem.power_off),
    )
    return supply, unit


def set_pools(problem: BayProblem, grid: Grid, unit_kw: Fraction) -> tuple[SetPool, ...]:
    """All heater sets, in pools; a set that locked work holds is a pool of its own."""
    named = {stage.heater_set for job in problem.locked for stage in job.stages}
    pools: dict[object, list[HeaterSet]] = {}
    for one in problem.heater_sets:
        users = frozenset(job.id for job in problem.jobs if one.id in job.heater_sets)
        alike = (one.channels, one.power_kw, grid.length(one.turnaround_minutes), frozenset(one.closed))
        pools.setdefault((users, alike, one.id if one.id in named else None), []).append(one)
    return tuple(_set_pool(members, grid, unit_kw) for members in pools.values())


def _set_pool(members: list[HeaterSet], grid: Grid, unit_kw: Fraction) -> SetPool:
    one = members[0]
    return SetPool(
        members=tuple(member.id for member in members),
        open=grid.horizon & ~_around(grid, one.closed),
        turnaround=grid.length(one.turnaround_minutes),
        power=int(_exact(one.power_kw) / unit_kw),
        channels=one.channels,
    )


def _unit_kw(powers: Iterable[float]) -> Fraction:
    """The largest power of which all of `powers` are whole multiples [kW]."""
    exact = [_exact(power) for power in powers if power]
    scale = lcm(*(power.denominator for power in exact))
    return Fraction(gcd(*(int(power * scale) for power in exact)) or 1, scale)


def _exact(kilowatts: float) -> Fraction:
    """The decimal that the problem file wrote, not the binary fraction nearest to it."""
    return Fraction(str(kilowatts))


def _around(grid: Grid, spans: Iterable[Span]) -> int:
    together = 0
    for span in spans:
        together |= grid.around(span)
    return together
