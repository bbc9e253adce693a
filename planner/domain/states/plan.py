"""The states of a stored plan: a draft until it is published, then frozen for good."""

from enum import StrEnum

from planner.domain.sentences import _
from planner.domain.states.table import StateTable


class PlanState(StrEnum):
    """Whether a plan may still be dropped, is the one that holds, or was the one that held."""

    DRAFT = "draft"
    PUBLISHED = "published"
    SUPERSEDED = "superseded"
    DROPPED = "dropped"


PLAN_STATES = StateTable(
    noun=_("plan"),
    first=PlanState.DRAFT,
    moves={
        (PlanState.DRAFT, "publish"): PlanState.PUBLISHED,
        (PlanState.DRAFT, "drop"): PlanState.DROPPED,
        (PlanState.PUBLISHED, "supersede"): PlanState.SUPERSEDED,
    },
)
