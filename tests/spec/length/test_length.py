"""A stage lasts its minutes rounded up to the grid."""

from planner.domain.problem import BayProblem
from tests.lib.bays import MORNING, bay, hands_on, job, one_stage_schedule, technician
from tests.lib.rule_spec import Case, RuleSpec


def _bay(minutes: int) -> BayProblem:
    """A stage in a shift of 45 min, on a grid of 15 min."""
    stage = hands_on("buff", minutes)
    return bay(job("J1", stage), technicians=(technician("Ada", end=MORNING + 45),))


class TestLength(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "length"
    feasible = Case(_bay(31), {"J1": MORNING + 45})
    boundary = Case(_bay(45), {"J1": MORNING + 45})
    infeasible = Case(_bay(46), {})
    broken = _bay(30), one_stage_schedule("buff", MORNING, MORNING + 45)
