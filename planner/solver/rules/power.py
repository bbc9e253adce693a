"""Power: what all energised sets draw at once stays within the limit."""

from decimal import Decimal

from planner.solver.masks import Mask
from planner.solver.model import BayModel
from planner.solver.pieces import Piece
from planner.solver.places import SetPool
from planner.solver.rules.rule import Rule
from planner.solver.state import BayState
from planner.solver.supply import limit_supply, milliwatts, supply_starts


class Power(Rule):
    """Kilowatts, counted exactly in milliwatts."""

    stem = "power"

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps from which standing work leaves enough power."""
        limit = power_limit(state)
        return state.bay.whole if limit is None else supply_starts(state, piece, limit, power_draw)

    def post(self, model: BayModel) -> None:
        """One cumulative over all sets."""
        limit = power_limit(model.state)
        if limit is not None:
            limit_supply(model, limit, power_draw)


def power_draw(pool: SetPool) -> int:
    """What one set draws while energised [mW]."""
    return milliwatts(pool.power_kw)


def power_limit(state: BayState) -> int | None:
    """What the supply carries [mW]; None for no limit."""
    limit = state.bay.problem.rules.power_limit_kw
    return None if limit is None else int(Decimal(repr(limit)) * 1_000_000)
