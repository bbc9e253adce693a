"""Attendant load: nobody watches more tyres at once than `cures_per_attendant`."""

from planner.solver.attendance import watch_room, watched_in
from planner.solver.choices import stage_starts
from planner.solver.masks import Mask, room_for
from planner.solver.model import BayModel
from planner.solver.pieces import Piece
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class AttendantLoad(Rule):
    """No more tyres are under watch at once than all present attendants may have."""

    stem = "attendant_load"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which one more tyre can be watched throughout."""
        watched, found = tuple(watched_in(state, piece)), state.bay.whole
        free = watch_room(state, busy=False).at_least(1) if watched else 0
        for stage, length in watched:
            found &= stage_starts(piece, stage, room_for(free, length))
        return found

    def post(self, model: BayModel) -> None:
        """One cumulative over the bay: a watch may pass on, so any present attendant counts."""
        intervals = [interval for _, interval in model.watched_intervals()]
        model.add_cumulative(intervals, [1] * len(intervals), watch_room(model.state, busy=False))
