"""The states of a work order, from the tyre's arrival to its last inspection."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class WorkOrderState(StrEnum):
    """Where the repair of one tyre stands."""

    RECEIVED = "received"
    TO_REPAIR = "to_repair"
    ON_HOLD = "on_hold"
    IN_HAND = "in_hand"
    REPAIRED = "repaired"
    REJECTED = "rejected"
    CALLED_OFF = "called_off"


_S = WorkOrderState

WORK_ORDER_STATES = StateTable(
    noun=_("work order"),
    first=_S.RECEIVED,
    moves={
        (_S.RECEIVED, "decide_to_repair"): _S.TO_REPAIR,
        (_S.RECEIVED, "reject"): _S.REJECTED,
        (_S.RECEIVED, "call_off"): _S.CALLED_OFF,
        (_S.TO_REPAIR, "start"): _S.IN_HAND,
        (_S.TO_REPAIR, "hold"): _S.ON_HOLD,
        (_S.TO_REPAIR, "reject"): _S.REJECTED,
        (_S.TO_REPAIR, "call_off"): _S.CALLED_OFF,
        (_S.ON_HOLD, "release"): _S.TO_REPAIR,
        (_S.ON_HOLD, "reject"): _S.REJECTED,
        (_S.ON_HOLD, "call_off"): _S.CALLED_OFF,
        (_S.IN_HAND, "complete"): _S.REPAIRED,
        # The casing is judged again once the damage is cut open, so work in hand can still end early.
        (_S.IN_HAND, "reject"): _S.REJECTED,
        # A tap on the floor was a slip of the hand: its first start, or its last end.
        (_S.IN_HAND, "take_back_start"): _S.TO_REPAIR,
        (_S.REPAIRED, "take_back_end"): _S.IN_HAND,
    },
)

PLANNABLE_WORK = (_S.TO_REPAIR, _S.IN_HAND)
NOT_BEGUN_WORK = (_S.RECEIVED, _S.TO_REPAIR, _S.ON_HOLD)
OPEN_WORK = (*NOT_BEGUN_WORK, _S.IN_HAND)
