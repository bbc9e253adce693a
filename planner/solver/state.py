"""The bay with some work held where it stands: which jobs are free, and what is left for them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.work import Job, StageKind
from planner.solver.bay import Bay, watched_kinds
from planner.solver.pieces import TyreWork
from planner.solver.places import PlacePool
from planner.solver.rooms import Room, Use, room


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A job's stages whose times are given, by their place in the job."""

    job: Job
    stages: Mapping[int, PlannedStage]

    def given(self, run: range) -> tuple[PlannedStage, PlannedStage] | None:
        """The first and the last stage of a run; None where the times of either are open."""
        if run.start in self.stages and run.stop - 1 in self.stages:
            return self.stages[run.start], self.stages[run.stop - 1]
        return None


@dataclass(frozen=True, kw_only=True, eq=False)
class BayState:
    """A bay, the jobs to place, and the planned jobs that stay as they are and only take room.

    Jobs that are neither free nor held are left out of the plan and take nothing. `held_watch` says who
    attends each held job, where the watch may not pass on. Of what is `forgiven` (crew, heater_set, position,
    watch, supply) held jobs take nothing: as if there were enough for all.
    """

    bay: Bay
    free: tuple[TyreWork, ...]
    held: tuple[PlannedJob, ...] = ()
    held_watch: Mapping[str, str] = field(default_factory=dict)
    forgiven: frozenset[str] = frozenset()

    @cached_property
    def taken(self) -> tuple[Standing, ...]:
        """The held jobs with their stages."""
        return tuple(
            Standing(job=self.bay.works[job.id].job, stages=dict(enumerate(job.stages))) for job in self.held
        )

    @cached_property
    def standing(self) -> tuple[Standing, ...]:
        """All stages whose times are given: of held jobs, and the locked ones of free jobs."""
        locked = (Standing(job=work.job, stages=work.locked) for work in self.free if work.locked)
        return (*self.taken, *locked)

    def room(self, supply: list[tuple[int, int, int]], uses: list[Use]) -> Room:
        """What a supply leaves after uses, on this bay's grid and horizon."""
        return room(self.bay.steps, supply, uses, self.bay.grid)

    @cached_property
    def crew_rooms(self) -> tuple[Room, ...]:
        """For each crew pool, the technicians left at every step; shifts lack locked work already."""
        uses: list[list[Use]] = [[] for _ in self.bay.crews]
        for stage in self.held_work():
            for pool in self.pools_of(stage):
                uses[pool].append((stage.start, stage.end, 1))
        supplies = (
            [(window.start, window.end, len(window.technicians)) for window in pool.windows]
            for pool in self.bay.crews
        )
        return tuple(self.room(supply, used) for supply, used in zip(supplies, uses, strict=True))

    def held_work(self) -> Iterator[PlannedStage]:
        """The hands-on stages of held jobs that are not locked."""
        for standing in () if "crew" in self.forgiven else self.taken:
            locked = self.bay.works[standing.job.id].locked
            yield from (
                stage for index, stage in standing.stages.items() if stage.technicians and index not in locked
            )

    def pools_of(self, stage: PlannedStage) -> Iterator[int]:
        """The crew pool of each technician of a hands-on stage that is not locked."""
        grid = self.bay.grid
        for pool in self.bay.crews:
            for window in pool.windows:
                if window.start * grid <= stage.start and stage.end <= window.end * grid:
                    yield from (
                        pool.id for technician in stage.technicians if technician in window.technicians
                    )

    @cached_property
    def set_rooms(self) -> tuple[Room, ...]:
        """For each pool of heater sets, how many are left; closures are not taken off."""
        return tuple(
            self._pool_room(pool, self._set_uses(pool.members, pool.turnaround)) for pool in self.bay.sets
        )

    def _set_uses(self, members: tuple[str, ...], turnaround: int) -> list[Use]:
        uses = []
        for standing in self.standing_for("heater_set"):
            block = standing.job.block
            ends = standing.given(range(block[0], block[-1] + 1)) if block else None
            if ends and ends[0].heater_set in members:
                uses.append((ends[0].start, ends[1].end + turnaround * self.bay.grid, 1))
        return uses

    @cached_property
    def position_rooms(self) -> tuple[Room, ...]:
        """For each pool of positions, how many are left; closures are not taken off."""
        return tuple(self._pool_room(pool, self._stay_uses(pool.members)) for pool in self.bay.positions)

    def _stay_uses(self, members: tuple[str, ...]) -> list[Use]:
        ends = (
            standing.given(stay)
            for standing in self.standing_for("position")
            for stay in standing.job.stays()
        )
        return [(pair[0].start, pair[1].end, 1) for pair in ends if pair and pair[0].position in members]

    def _pool_room(self, pool: PlacePool, used: list[Use]) -> Room:
        return self.room([(0, self.bay.steps, len(pool.members))], used)

    def standing_for(self, resource: str) -> tuple[Standing, ...]:
        """The standing stages that take of a resource: none where that is forgiven."""
        return () if resource in self.forgiven else self.standing

    def standing_of(self, kinds: frozenset[StageKind], resource: str) -> Iterator[PlannedStage]:
        """The standing stages of those kinds, as far as they take of the resource."""
        for standing in self.standing_for(resource):
            stages = standing.job.stages
            yield from (stage for index, stage in standing.stages.items() if stages[index].kind in kinds)

    @cached_property
    def watched(self) -> list[Use]:
        """The standing watched time, one for each tyre at each moment."""
        return [
            (stage.start, stage.end, 1)
            for stage in self.standing_of(watched_kinds(self.bay.problem), "watch")
        ]
