"""Planning again once the day has moved on: work in hand, disturbances, and what a new plan changes."""

from planner.solver.replan.disturbances import job_arrived, set_failed, stage_runs_over, technician_away
from planner.solver.replan.in_hand import work_in_hand
from planner.solver.replan.moves import Move, moves_between
from planner.solver.replan.repair import replan
from planner.solver.replan.why import MovedJob, moved_jobs

__all__ = [
    "Move",
    "MovedJob",
    "job_arrived",
    "moved_jobs",
    "moves_between",
    "replan",
    "set_failed",
    "stage_runs_over",
    "technician_away",
    "work_in_hand",
]
