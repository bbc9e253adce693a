"""The states of one stage as it is really done."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class StageRunState(StrEnum):
    """Whether the stage is going on, over, or given up."""

    RUNNING = "running"
    DONE = "done"
    STOPPED = "stopped"


STAGE_RUN_STATES = StateTable(
    noun=_("stage run"),
    first=StageRunState.RUNNING,
    moves={
        (StageRunState.RUNNING, "finish"): StageRunState.DONE,
        (StageRunState.RUNNING, "stop"): StageRunState.STOPPED,
        # A slip of the hand; a start that was one leaves no run behind.
        (StageRunState.DONE, "take_back_end"): StageRunState.RUNNING,
    },
)
