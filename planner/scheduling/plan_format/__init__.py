"""The bay plan as a file: `bay-plan/1`, read strictly and written canonically."""

from planner.scheduling.plan_format.read import plan_read
from planner.scheduling.plan_format.write import plan_write

__all__ = ["plan_read", "plan_write"]
