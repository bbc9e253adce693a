"""No energised stage meets an isolation of the supply."""

from planner.domain.bay_time import Span
from planner.domain.problem import BayProblem
from tests.lib.bays import EVENING, HOUR, bay, block_schedule
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(start: int, end: int) -> BayProblem:
    """One block, energised from half an hour after its start for two hours; a shift from 6:00 to 18:00."""
    return bay(power_off=(Span(start, end),))


class TestPowerOff(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "power_off"
    feasible = Case(_bay(8 * HOUR + 30, 17 * HOUR), {"J1": 10 * HOUR})
    boundary = Case(_bay(8 * HOUR + 29, 14 * HOUR + 30), {"J1": EVENING})
    infeasible = Case(_bay(8 * HOUR + 29, 14 * HOUR + 31), {})
    broken = _bay(8 * HOUR, 9 * HOUR), block_schedule()
