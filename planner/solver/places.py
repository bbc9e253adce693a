"""Heater sets and floor positions that are interchangeable, pooled so that the model need not name them.

Members of a pool have the same calendar and serve the same jobs; a pool is exact because holds that
never number more than its members at once can always be handed out, earliest start first. Whatever
locked work holds stays in a pool of its own.
"""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from planner.domain.bay_time import Span, round_up
from planner.domain.problem import BayProblem
from planner.domain.resources import HeaterSet, Position
from planner.solver.masks import Mask, stretch, union


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacePool:
    """Interchangeable positions, or sets: who they are and when they are open."""

    id: int
    members: tuple[str, ...]
    open: Mask


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPool(PlacePool):
    """Interchangeable heater sets, with what one of them takes while energised."""

    channels: int
    power_kw: float
    turnaround: int


def open_mask(problem: BayProblem, closed: Iterable[Span]) -> Mask:
    """The steps of the horizon outside the closures, which grow outward to the grid."""
    grid = problem.grid_minutes
    spans = (span.outward(grid) for span in closed)
    return stretch(0, problem.horizon_end // grid) & ~union(
        (span.start // grid, span.end // grid) for span in spans
    )


def set_pools(problem: BayProblem) -> tuple[SetPool, ...]:
    """The heater sets, pooled."""
    locked = {stage.heater_set for job in problem.locked for stage in job.stages}
    groups: dict[Hashable, list[HeaterSet]] = {}
    for heater_set in problem.heater_sets:
        users = frozenset(job.id for job in problem.jobs if heater_set.id in job.heater_sets)
        turnaround = round_up(heater_set.turnaround_minutes, problem.grid_minutes)
        owner = heater_set.id if heater_set.id in locked else ""
        likeness = (heater_set.channels, heater_set.power_kw, turnaround, users, owner)
        groups.setdefault((open_mask(problem, heater_set.closed), *likeness), []).append(heater_set)
    return tuple(_set_pool(problem, index, members) for index, members in enumerate(groups.values()))


def _set_pool(problem: BayProblem, index: int, members: list[HeaterSet]) -> SetPool:
    grid, one = problem.grid_minutes, members[0]
    return SetPool(
        id=index,
        members=tuple(member.id for member in members),
        open=open_mask(problem, one.closed),
        channels=one.channels,
        power_kw=one.power_kw,
        turnaround=round_up(one.turnaround_minutes, grid) // grid,
    )


def position_pools(problem: BayProblem) -> tuple[PlacePool, ...]:
    """The floor positions, pooled."""
    locked = {stage.position for job in problem.locked for stage in job.stages}
    groups: dict[Hashable, list[Position]] = {}
    for position in problem.positions:
        users = frozenset(
            (job.id, kind)
            for job in problem.jobs
            for kind, ids in job.positions.items()
            if position.id in ids
        )
        owner = position.id if position.id in locked else ""
        groups.setdefault((open_mask(problem, position.closed), users, owner), []).append(position)
    return tuple(
        PlacePool(
            id=index,
            members=tuple(position.id for position in members),
            open=open_mask(problem, members[0].closed),
        )
        for index, members in enumerate(groups.values())
    )
