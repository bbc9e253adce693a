"""Changing a draft by hand, every change checked before it is stored."""

from planner.services.plan_edit.edits import (
    RefusedMoveError,
    plan_leave_out,
    plan_lock,
    plan_move,
    plan_unlock,
)
from planner.services.plan_edit.first import plan_put_first
from planner.services.plan_edit.moving import Move

__all__ = [
    "Move",
    "RefusedMoveError",
    "plan_leave_out",
    "plan_lock",
    "plan_move",
    "plan_put_first",
    "plan_unlock",
]
