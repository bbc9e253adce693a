"""Power off: no energised stage meets an isolation of the supply."""

from planner.domain.work import StageKind
from planner.solver.choices import stage_starts
from planner.solver.masks import Mask, room_for
from planner.solver.pieces import Piece
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState


class PowerOff(Rule):
    """An energised stage lies where the supply is on."""

    stem = "power_off"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which every energised stage of the piece keeps its power."""
        found, stages = state.bay.whole, state.bay.works[piece.job].job.stages
        for stage in piece.stages:
            if stages[stage].kind is StageKind.ENERGISED:
                found &= stage_starts(piece, stage, room_for(state.bay.powered, piece.length_of(stage)))
        return found
