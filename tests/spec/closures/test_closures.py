"""No closure of the set meets a block; a turnaround may meet one."""

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from tests.lib.bays import EVENING, HOUR, bay, block_schedule, heater_set
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(start: int, end: int) -> BayProblem:
    """One block of four hours; its set is closed for a while."""
    return bay(heater_sets=(heater_set("H1", closed=(Span(start, end),)),))


class TestClosures(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "closures"
    feasible = Case(_bay(10 * HOUR, 12 * HOUR), {"J1": 10 * HOUR})
    boundary = Case(_bay(9 * HOUR, 14 * HOUR), {"J1": EVENING})
    infeasible = Case(_bay(9 * HOUR, 14 * HOUR + 1), {})
    broken = _bay(9 * HOUR, 14 * HOUR), block_schedule()
