"""Release: nothing that is not locked starts before the job is released."""

from planner.solver.masks import Mask, stretch
from planner.solver.pieces import Piece, steps_up
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class Release(Rule):
    """Pieces start at or after `released_at`."""

    stem = "release"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """Everything from the release on."""
        released_at = state.bay.works[piece.job].job.released_at
        return ~stretch(0, steps_up(state.bay.problem, released_at))
