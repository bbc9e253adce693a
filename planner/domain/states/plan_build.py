"""The states of the building of a plan by a worker."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class PlanBuildState(StrEnum):
    """How far the worker has come."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    CANCELLED = "cancelled"
    FAILED = "failed"


_S = PlanBuildState

PLAN_BUILD_STATES = StateTable(
    noun=_("plan build"),
    first=_S.QUEUED,
    moves={
        (_S.QUEUED, "run"): _S.RUNNING,
        (_S.QUEUED, "cancel"): _S.CANCELLED,
        (_S.QUEUED, "fail"): _S.FAILED,
        # A cancelled run keeps its best plan so far, so it ends as done; the flag on the row says why.
        (_S.RUNNING, "finish"): _S.DONE,
        (_S.RUNNING, "cancel"): _S.CANCELLED,
        (_S.RUNNING, "fail"): _S.FAILED,
    },
)
