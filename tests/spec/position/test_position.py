"""One eligible position for a whole stay, one job at a time."""

from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, MORNING, block_plan, block_schedule, two_blocks
from tests.lib.rule_spec import Case, ModelledRuleSpec

SECOND = block_plan("J2", MORNING + 225, heater_set="H2", technician="Bo")


def _bay(end: int) -> BayProblem:
    """Two blocks of four hours on sets of their own; C1 is eligible for both."""
    return two_blocks(end, positions=("C1", "C1"))


class TestPosition(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "position"
    feasible = Case(_bay(18 * HOUR), {"J1": 10 * HOUR, "J2": 14 * HOUR})
    boundary = Case(_bay(14 * HOUR), {"J1": 10 * HOUR, "J2": 14 * HOUR})
    infeasible = Case(_bay(14 * HOUR - 1), {"J1": 10 * HOUR})
    broken = (
        _bay(18 * HOUR),
        block_schedule(block_plan(), SECOND, attendant="Cy"),
    )
