"""One table of states for each noun; the diagrams in DEVELOPERS.md are drawn from them."""

from planner.domain.states.part import PART_STATES, PartState
from planner.domain.states.plan import PLAN_STATES, PlanState
from planner.domain.states.plan_build import PLAN_BUILD_STATES, PlanBuildState
from planner.domain.states.stage_run import STAGE_RUN_STATES, StageRunState
from planner.domain.states.table import StateTable, WrongStateError
from planner.domain.states.tyre import TYRE_STATES, TyreState
from planner.domain.states.work_order import (
    NOT_BEGUN_WORK,
    OPEN_WORK,
    PLANNABLE_WORK,
    WORK_ORDER_STATES,
    WorkOrderState,
)

STATE_TABLES: tuple[StateTable, ...] = (
    WORK_ORDER_STATES,
    STAGE_RUN_STATES,
    PLAN_STATES,
    PLAN_BUILD_STATES,
    PART_STATES,
    TYRE_STATES,
)

__all__ = [
    "NOT_BEGUN_WORK",
    "OPEN_WORK",
    "PART_STATES",
    "PLANNABLE_WORK",
    "PLAN_BUILD_STATES",
    "PLAN_STATES",
    "STAGE_RUN_STATES",
    "STATE_TABLES",
    "TYRE_STATES",
    "WORK_ORDER_STATES",
    "PartState",
    "PlanBuildState",
    "PlanState",
    "StageRunState",
    "StateTable",
    "TyreState",
    "WorkOrderState",
    "WrongStateError",
]
