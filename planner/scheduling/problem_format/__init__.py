"""The bay problem as a file: `bay-problem/1`, read strictly and written canonically."""

from planner.scheduling.problem_format.read import ProblemFile, problem_read
from planner.scheduling.problem_format.write import problem_write

__all__ = ["ProblemFile", "problem_read", "problem_write"]
