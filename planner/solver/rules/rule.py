"""What every rule of the bay can say to the solver."""

from typing import TYPE_CHECKING, ClassVar

from planner.solver.masks import Mask
from planner.solver.pieces import Piece
from planner.solver.state import BayState

if TYPE_CHECKING:
    from planner.solver.model import BayModel


class Rule:
    """A rule narrows where pieces may start, posts constraints, or does both."""

    stem: ClassVar[str]

    def starts(self, state: BayState, piece: Piece) -> Mask:
        """The steps at which this rule lets the piece start, whatever else happens."""
        return state.bay.whole

    def post(self, model: "BayModel") -> None:
        """Add what the rule asks of the jobs together."""
