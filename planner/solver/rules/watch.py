"""Watch: every watched minute finds an attendant, on shift and off break unless breaks count."""

from planner.solver.attendance import watched_in
from planner.solver.choices import stage_starts
from planner.solver.masks import Mask, room_for
from planner.solver.pieces import Piece
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Watch(Rule):
    """A watched stage lies where some attendant is present at every step."""

    stem = "watch"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which the watched stages find somebody throughout."""
        present = 0
        for mask in state.bay.on_watch.values():
            present |= mask
        found = state.bay.whole
        for stage, length in watched_in(state, piece):
            found &= stage_starts(piece, stage, room_for(present, length))
        return found
