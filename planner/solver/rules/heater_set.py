"""Heater set: one eligible set for the whole block, one job at a time with its turnaround."""

from planner.solver.choices import set_choices
from planner.solver.door import cp_model
from planner.solver.masks import Mask, room_for
from planner.solver.model import BayModel
from planner.solver.pieces import Piece
from planner.solver.places import SetPool
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class HeaterSet(Rule):
    """No pool of sets serves more blocks at once, turnarounds included, than it has sets."""

    stem = "heater_set"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which some set is free for a block that is one piece, and for its turnaround."""
        work, beyond = state.bay.works[piece.job], ~state.bay.whole
        if not work.job.block or tuple(piece.stages) != work.job.block:
            return state.bay.whole
        found = 0
        for pool in set_choices(state, work):
            found |= room_for(state.set_rooms[pool.id].at_least(1) | beyond, piece.work + pool.turnaround)
        return found

    def post(self, model: BayModel) -> None:
        """A cumulative for each pool."""
        for pool, room in zip(model.state.bay.sets, model.state.set_rooms, strict=True):
            holds = _holds(model, pool)
            model.add_cumulative(holds, [1] * len(holds), room)


def _holds(model: BayModel, pool: SetPool) -> list[cp_model.IntervalVar]:
    return [
        model.interval(job, block, chosen.taken, extra=pool.turnaround)
        for job in model.jobs.values()
        for block in job.open_block()
        for chosen in job.sets
        if chosen.pool.id == pool.id
    ]
