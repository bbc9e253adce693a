"""Nothing unlocked before the horizon's start, nothing past its end."""

from tests.lib.bays import DAY, HOUR, bay, block_schedule
from tests.lib.rule_spec import Case, RuleSpec


class TestHorizon(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "horizon"
    feasible = Case(bay(horizon_end=DAY), {"J1": 10 * HOUR})
    boundary = Case(bay(horizon_end=10 * HOUR), {"J1": 10 * HOUR})
    infeasible = Case(bay(horizon_end=10 * HOUR - 1), {})
    broken = bay(horizon_end=10 * HOUR - 1), block_schedule()
