"""What a bay can give at every step, as rows of one table: crews, positions, sets, supply and watch."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd

import numpy as np
from numpy.typing import NDArray

from planner.solver.attendance import watch_room
from planner.solver.places import SetPool
from planner.solver.rooms import Room
from planner.solver.rules.channels import outlets
from planner.solver.rules.power import power_draw, power_limit
from planner.solver.state import BayState
from planner.solver.supply import supply_room

Whole = NDArray[np.int64]


@dataclass(frozen=True, kw_only=True)
class Rows:
    """Where each resource stands in the table; None where a bay has no such limit."""

    crews: int
    positions: int
    sets: int
    watch: int
    power: int | None
    channels: int | None
    count: int


@dataclass(frozen=True, kw_only=True)
class Resources:
    """The rows of a state and how much each gives at every step."""

    state: BayState
    rows: Rows

    @cached_property
    def capacity(self) -> Whole:
        """What is there, by row and step."""
        rooms = list(_rooms(self.state, self.rows))
        table = np.array([_by_step(room) for room in rooms], dtype=np.int64)
        if self.rows.power is not None:
            table[self.rows.power] //= self.power_unit
        return table

    @cached_property
    def power_unit(self) -> int:
        """The power of which every set's draw is a whole multiple [mW]."""
        return gcd(*(power_draw(pool) for pool in self.state.bay.sets)) or 1

    def power_of(self, pool: SetPool) -> int:
        """What one set draws [power units]."""
        return power_draw(pool) // self.power_unit

    @property
    def steps(self) -> int:
        """Steps in the horizon."""
        return self.state.bay.steps


def resources_of(state: BayState) -> Resources:
    """The resources of a state."""
    bay, rules = state.bay, state.bay.problem.rules
    positions = len(bay.crews)
    sets = positions + len(bay.positions)
    watch = sets + len(bay.sets)
    power = None if rules.power_limit_kw is None else watch + 1
    after_power = watch + 1 if power is None else power + 1
    channels = None if rules.channel_limit is None else after_power
    return Resources(
        state=state,
        rows=Rows(
            crews=0,
            positions=positions,
            sets=sets,
            watch=watch,
            power=power,
            channels=channels,
            count=after_power if channels is None else channels + 1,
        ),
    )


def _rooms(state: BayState, rows: Rows) -> Iterator[Room]:
    rules = state.bay.problem.rules
    yield from state.crew_rooms
    yield from state.position_rooms
    yield from state.set_rooms
    yield watch_room(state, busy=not rules.attendant_may_work)
    limit = power_limit(state)
    if limit is not None:
        yield supply_room(state, limit, power_draw)
    if rules.channel_limit is not None:
        yield supply_room(state, rules.channel_limit, outlets)


def _by_step(room: Room) -> Sequence[int]:
    return [left for first, last, left in room.stretches for _ in range(first, last)]
