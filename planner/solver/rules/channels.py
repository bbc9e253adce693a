"""Channels: the controller outlets of all energised sets stay within the limit."""

from planner.solver.masks import Mask
from planner.solver.model import BayModel
from planner.solver.pieces import Piece
from planner.solver.places import SetPool
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState
from planner.solver.supply import limit_supply, supply_starts


class Channels(Rule):
    """Controller channels, counted while pads are energised."""

    stem = "channels"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which standing work leaves enough channels."""
        limit = state.bay.problem.rules.channel_limit
        return state.bay.whole if limit is None else supply_starts(state, piece, limit, outlets)

    def post(self, model: BayModel) -> None:
        """One cumulative over all sets."""
        limit = model.state.bay.problem.rules.channel_limit
        if limit is not None:
            limit_supply(model, limit, outlets)


def outlets(pool: SetPool) -> int:
    """How many controller channels one set takes."""
    return pool.channels
