"""Position: one eligible position for a whole stay, waits included, one job at a time."""

from planner.solver.choices import position_choices, stage_starts
from planner.solver.door import cp_model
from planner.solver.masks import Mask, room_for
from planner.solver.model import BayModel
from planner.solver.pieces import Piece, TyreWork
from planner.solver.places import PlacePool
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Position(Rule):
    """No pool of positions holds more tyres at once than it has positions."""

    stem = "position"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which each placed stage of the piece finds some position free."""
        work, found = state.bay.works[piece.job], state.bay.whole
        for stay in work.job.stays():
            if _is_given(work, stay):
                continue
            free = 0
            for pool in position_choices(state, work, stay):
                free |= state.position_rooms[pool.id].at_least(1)
            for stage in piece.stages:
                if stage in stay:
                    found &= stage_starts(piece, stage, room_for(free, piece.length_of(stage)))
        return found

    def post(self, model: BayModel) -> None:
        """A cumulative for each pool."""
        for pool, room in zip(model.state.bay.positions, model.state.position_rooms, strict=True):
            stays = _stays(model, pool)
            model.add_cumulative(stays, [1] * len(stays), room)


def _is_given(work: TyreWork, stay: range) -> bool:
    return stay.start in work.locked and stay.stop - 1 in work.locked


def _stays(model: BayModel, pool: PlacePool) -> list[cp_model.IntervalVar]:
    return [
        model.interval(job, stay, chosen.taken)
        for job in model.jobs.values()
        for stay, pools in job.stays.items()
        if not job.is_given(stay)
        for chosen in pools
        if chosen.pool.id == pool.id
    ]
