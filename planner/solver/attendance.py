"""Who may attend the watched stages, and what held and locked work leaves of them."""

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from planner.solver.bay import watched_kinds
from planner.solver.masks import Mask, runs
from planner.solver.pieces import Piece, TyreWork
from planner.solver.rooms import Room, Use
from planner.solver.state import BayState


@dataclass(frozen=True, slots=True, kw_only=True)
class AttendantGroup:
    """Attendants who are interchangeable for a whole watch: always present together."""

    technicians: tuple[str, ...]
    present: Mask


def watched_runs(state: BayState, work: TyreWork) -> tuple[range, ...]:
    """The watched stages of a job as runs without a gap: inside one piece, or locked one after another."""
    kinds = watched_kinds(state.bay.problem)
    found: list[range] = []
    for stage, spec in enumerate(work.job.stages):
        if spec.kind not in kinds:
            continue
        if found and found[-1].stop == stage and _joined(work, stage):
            found[-1] = range(found[-1].start, stage + 1)
        else:
            found.append(range(stage, stage + 1))
    return tuple(found)


def _joined(work: TyreWork, stage: int) -> bool:
    if stage in work.locked or stage - 1 in work.locked:
        locked = work.locked
        return stage in locked and stage - 1 in locked and locked[stage].start == locked[stage - 1].end
    return work.piece_of(stage) is work.piece_of(stage - 1)


def watched_in(state: BayState, piece: Piece) -> Iterator[tuple[int, int]]:
    """First stage and length [steps] of each watched run of a piece."""
    work = state.bay.works[piece.job]
    for run in watched_runs(state, work):
        if run.start in piece.stages:
            yield run.start, sum(piece.length_of(stage) for stage in run)


@lru_cache(maxsize=64)
def watch_room(state: BayState, *, busy: bool) -> Room:
    """How many more tyres can be watched at every step; with `busy`, hands-on work takes attendants away."""
    most = state.bay.problem.rules.cures_per_attendant
    supply = [(first, last, most) for present in state.bay.on_watch.values() for first, last in runs(present)]
    uses = [*state.watched, *(_busy_attendants(state, most) if busy else ())]
    return state.room(supply, uses)


def _busy_attendants(state: BayState, amount: int) -> Iterable[Use]:
    grid = state.bay.grid
    for stage in state.held_work():
        for technician in stage.technicians:
            present = state.bay.on_watch.get(technician, 0)
            for first, last in runs(present):
                start, end = max(stage.start, first * grid), min(stage.end, last * grid)
                if start < end:
                    yield start, end, amount


def attendant_groups(state: BayState) -> tuple[AttendantGroup, ...]:
    """The attendants, pooled where any of them may take any whole watch; by name where that is not exact."""
    rules, works = state.bay.problem.rules, state.bay.works.values()
    pooled = rules.attendant_may_work and all(len(watched_runs(state, work)) <= 1 for work in works)
    groups: dict[Hashable, list[str]] = {}
    for technician, present in state.bay.on_watch.items():
        groups.setdefault(present if pooled else technician, []).append(technician)
    return tuple(
        AttendantGroup(technicians=tuple(members), present=state.bay.on_watch[members[0]])
        for members in groups.values()
    )
