"""What the fields of a problem must hold between them, once each has its shape."""

from planner.scheduling.problem_format.checks.jobs import jobs_check
from planner.scheduling.problem_format.checks.locked import locked_check
from planner.scheduling.problem_format.checks.resources import resources_check
from planner.scheduling.problem_format.checks.times import times_check

__all__ = ["jobs_check", "locked_check", "resources_check", "times_check"]
