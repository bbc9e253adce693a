"""The choices that a free job has: crews for its hands-on stages, pools for its block and its stays."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.work import StageKind
from planner.solver.crews import Crew, crews_of
from planner.solver.masks import Mask, moved, room_for
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import PlacePool, SetPool
from planner.solver.state import BayState


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewChoice:
    """A crew for one stage, how long it then lasts, and the steps at which it may start it."""

    stage: int
    crew: Crew
    elapsed: int
    starts: Mask


def crew_choices(state: BayState, piece: Piece, stage: int) -> tuple[CrewChoice, ...]:
    """Every crew that has room for the stage, by elapsed length."""
    spec = state.bay.works[piece.job].job.stages[stage]
    if spec.kind is not StageKind.HANDS_ON or spec.skill is None:
        return ()
    return tuple(_choices(state, piece, stage, spec.skill, spec.crew))


def _choices(state: BayState, piece: Piece, stage: int, skill: str, size: int) -> Iterator[CrewChoice]:
    bay, work = state.bay, piece.length_of(stage)
    for crew in crews_of(bay.crews, skill, size):
        for elapsed, starts in bay.calendar.starts(crew, work, pausable=piece.pausable).items():
            left = starts & _crew_room(state, crew, elapsed)
            if left:
                yield CrewChoice(stage=stage, crew=crew, elapsed=elapsed, starts=left)


def _crew_room(state: BayState, crew: Crew, elapsed: int) -> Mask:
    mask = state.bay.whole
    for pool, size in Counter(crew.pools).items():
        mask &= room_for(state.crew_rooms[pool].at_least(size), elapsed)
    return mask


def set_choices(state: BayState, work: TyreWork) -> tuple[SetPool, ...]:
    """The pools of heater sets that may take the job's block; none where it has no block or no set."""
    block = work.job.block
    if not block:
        return ()
    fixed = next((work.locked[stage].heater_set for stage in block if stage in work.locked), None)
    wanted = work.job.heater_sets if fixed is None else (fixed,)
    return tuple(pool for pool in state.bay.sets if pool.members[0] in wanted)


def position_choices(state: BayState, work: TyreWork, stay: range) -> tuple[PlacePool, ...]:
    """The pools of positions that may take the stay."""
    kind = work.job.stages[stay.start].place
    fixed = next((work.locked[stage].position for stage in stay if stage in work.locked), None)
    wanted = work.job.positions.get(kind or "", ()) if fixed is None else (fixed,)
    return tuple(pool for pool in state.bay.positions if pool.members[0] in wanted)


def stage_starts(piece: Piece, stage: int, mask: Mask) -> Mask:
    """Starts of the piece from starts of one of its stages."""
    return moved(mask, -piece.offset_of(stage))
