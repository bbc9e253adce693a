"""Every time lies on the grid; shifts shrink to it."""

from planner.domain.problem import BayProblem
from tests.lib.bays import MORNING, bay, hands_on, job, one_stage_schedule, technician
from tests.lib.rule_spec import Case, RuleSpec

HALF_HOUR = job("J1", hands_on("buff", 30))


def _bay(start: int) -> BayProblem:
    """A shift of one hour less what the grid of 15 min takes off its start."""
    return bay(HALF_HOUR, technicians=(technician("Ada", start=start, end=MORNING + 60),))


class TestGrid(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "grid"
    feasible = Case(_bay(MORNING), {"J1": MORNING + 30})
    boundary = Case(_bay(MORNING + 16), {"J1": MORNING + 60})
    infeasible = Case(_bay(MORNING + 31), {})
    broken = bay(HALF_HOUR), one_stage_schedule("buff", MORNING + 5, MORNING + 35)
