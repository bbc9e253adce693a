"""Nothing unlocked before the job is released."""

from planner.domain.problem import BayProblem
from tests.lib.bays import EVENING, HOUR, bay, block_schedule, job
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(released_at: int) -> BayProblem:
    return bay(job(released_at=released_at))


class TestRelease(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "release"
    feasible = Case(_bay(7 * HOUR), {"J1": 11 * HOUR})
    boundary = Case(_bay(14 * HOUR), {"J1": EVENING})
    infeasible = Case(_bay(14 * HOUR + 1), {})
    broken = _bay(7 * HOUR), block_schedule()
