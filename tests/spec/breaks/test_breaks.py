"""A stage meets no break of its crew; a pausable one stops for it, and neither starts nor ends in one."""

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, MORNING, bay, hands_on, job, one_stage_schedule, technician
from tests.lib.rule_spec import Case, RuleSpec

BREAK = Span(MORNING + 90, 8 * HOUR)


def _bay(end: int, *, pausable: bool) -> BayProblem:
    """Two hours of work in a shift with a break from 7:30 to 8:00."""
    stage = hands_on("buff", 120, pausable=pausable)
    return bay(job("J1", stage), technicians=(technician("Ada", BREAK, end=end),))


class TestBreaks(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "breaks"
    feasible = Case(_bay(12 * HOUR, pausable=True), {"J1": 8 * HOUR + 30})
    boundary = Case(_bay(10 * HOUR, pausable=False), {"J1": 10 * HOUR})
    infeasible = Case(_bay(10 * HOUR - 1, pausable=False), {})
    broken = _bay(12 * HOUR, pausable=True), one_stage_schedule("buff", 7 * HOUR + 45, 10 * HOUR)
