"""A bay problem made ready for planning: compiled once, shared by every plan that is tried."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.domain.plan import PlannedJob, PlannedStage
from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.scheduling.dispatch.calendar import WorkCalendar, work_calendar
from planner.scheduling.dispatch.grid import Grid, grid_of
from planner.scheduling.dispatch.pieces import Piece, pieces_of
from planner.scheduling.dispatch.pools import PlacePool, SetPool, Supply, place_pools, set_pools, supply_of


@dataclass(frozen=True, slots=True, kw_only=True)
class BayJob:
    """A job ready for planning. `number` is its place in `Bay.jobs`; `places` are its pools by kind.

    `cost_left_out` is what the score charges where it is not planned; `must` marks locked work and all
    that has to come before it; `latest_end` is the slot by which it must be over for locked work after it.
    """

    number: int
    id: str
    priority: int
    release: int
    needed_by: int
    cost_left_out: int
    latest_end: int
    pieces: tuple[Piece, ...]
    after: tuple[int, ...]
    before: tuple[int, ...]
    sets: tuple[int, ...]
    places: dict[str, tuple[int, ...]]
    must: bool

    def lateness(self, end: int) -> int:
        """What the score charges where its last stage ends at minute `end` [priority-weighted min]."""
        return self.priority * max(0, end - self.needed_by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """Everything of a problem that no plan changes."""

    problem: BayProblem
    grid: Grid
    crew: tuple[WorkCalendar, ...]
    places: tuple[PlacePool, ...]
    sets: tuple[SetPool, ...]
    supply: Supply
    jobs: tuple[BayJob, ...]

    @property
    def named_watch(self) -> bool:
        """Whether one attendant has a tyre's whole watch, who must then be named from the start."""
        return not self.problem.rules.handover_allowed


def bay_of(problem: BayProblem) -> Bay:
    """Compile `problem`."""
    grid = grid_of(problem)
    rules = problem.rules
    supply, unit_kw = supply_of(problem, grid)
    places, sets = place_pools(problem, grid), set_pools(problem, grid, unit_kw)
    return Bay(
        problem=problem,
        grid=grid,
        crew=tuple(
            work_calendar(one, grid, rules.watch_skill, rules.watch_through_breaks)
            for one in problem.technicians
        ),
        places=places,
        sets=sets,
        supply=supply,
        jobs=tuple(_bay_jobs(problem, grid, places, sets)),
    )


def _bay_jobs(
    problem: BayProblem, grid: Grid, places: tuple[PlacePool, ...], sets: tuple[SetPool, ...]
) -> Iterator[BayJob]:
    numbers = {job.id: number for number, job in enumerate(problem.jobs)}
    locks = {lock.id: lock for lock in problem.locked}
    musts = _with_all_before(locks, problem.jobs)
    deadlines = _deadlines(problem, grid, locks)
    before: dict[str, list[int]] = {job.id: [] for job in problem.jobs}
    for job in problem.jobs:
        for earlier in job.after:
            before[earlier].append(numbers[job.id])
    for job in problem.jobs:
        locked = {stage.name: stage for stage in locks[job.id].stages} if job.id in locks else {}
        yield BayJob(
            number=numbers[job.id],
            id=job.id,
            priority=job.priority,
            release=max(grid.first, grid.slot_after(job.released_at)),
            needed_by=job.needed_by,
            cost_left_out=job.priority * (max(0, problem.horizon_end - job.needed_by) + problem.horizon_end),
            latest_end=deadlines[job.id],
            pieces=pieces_of(job, grid, locked, problem.rules.watch_cool_down),
            after=tuple(numbers[earlier] for earlier in job.after),
            before=tuple(before[job.id]),
            sets=_set_choices(job, sets, locked.values()),
            places=_place_choices(job, places),
            must=job.id in musts,
        )


def _place_choices(job: Job, places: tuple[PlacePool, ...]) -> dict[str, tuple[int, ...]]:
    return {
        kind: tuple(number for number, pool in enumerate(places) if pool.members[0] in ids)
        for kind, ids in job.positions.items()
    }


def _set_choices(job: Job, sets: tuple[SetPool, ...], locked: Iterable[PlannedStage]) -> tuple[int, ...]:
    held = {stage.heater_set for stage in locked} - {None}
    return tuple(
        number
        for number, pool in enumerate(sets)
        if pool.members[0] in job.heater_sets and held <= {pool.members[0]}
    )


def _with_all_before(locks: dict[str, PlannedJob], jobs: tuple[Job, ...]) -> set[str]:
    """Locked jobs and, since a job is planned only after those before it, all that come before them."""
    after = {job.id: job.after for job in jobs}
    found, open_ends = set(locks), list(locks)
    while open_ends:
        for earlier in after.get(open_ends.pop(), ()):
            if earlier not in found:
                found.add(earlier)
                open_ends.append(earlier)
    return found


def _deadlines(problem: BayProblem, grid: Grid, locks: dict[str, PlannedJob]) -> dict[str, int]:
    """For each job the slot by which it must end: the horizon's end, or the start of locked work after it."""
    latest = {job.id: grid.end for job in problem.jobs}
    for job in problem.jobs:
        first = job.stages[0].name
        starts = [s.start for s in locks[job.id].stages if s.name == first] if job.id in locks else []
        for start in starts:
            for earlier in job.after:
                latest[earlier] = min(latest[earlier], grid.slot_before(start))
    return latest
