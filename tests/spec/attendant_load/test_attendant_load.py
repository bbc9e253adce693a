"""Nobody attends more tyres at once than `cures_per_attendant`."""

from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, side_by_side, two_blocks
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(end: int, cures_per_attendant: int = 1) -> BayProblem:
    """Two blocks, each watched for three hours, in the care of Cy alone."""
    return two_blocks(end, rules={"cures_per_attendant": cures_per_attendant})


class TestAttendantLoad(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "attendant_load"
    feasible = Case(_bay(10 * HOUR, 2), {"J1": 10 * HOUR, "J2": 10 * HOUR})
    boundary = Case(_bay(13 * HOUR), {"J1": 10 * HOUR, "J2": 13 * HOUR})
    infeasible = Case(_bay(13 * HOUR - 1), {"J1": 10 * HOUR})
    broken = _bay(18 * HOUR), side_by_side()
