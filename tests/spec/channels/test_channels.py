"""Controller channels energised at once stay within the limit."""

from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, side_by_side, two_blocks
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(end: int, channels: int) -> BayProblem:
    """Two blocks, each energised for two hours with 2 channels, together or one after the other."""
    return two_blocks(end, rules={"cures_per_attendant": 2, "channel_limit": channels})


class TestChannels(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "channels"
    feasible = Case(_bay(10 * HOUR, 4), {"J1": 10 * HOUR, "J2": 10 * HOUR})
    boundary = Case(_bay(12 * HOUR, 3), {"J1": 10 * HOUR, "J2": 12 * HOUR})
    infeasible = Case(_bay(12 * HOUR - 1, 3), {"J1": 10 * HOUR})
    broken = _bay(18 * HOUR, 3), side_by_side()
