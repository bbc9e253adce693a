"""One eligible set for the whole block, one job at a time, with its turnaround between."""

from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, MORNING, block_plan, block_schedule, two_blocks
from tests.lib.rule_spec import Case, ModelledRuleSpec

SECOND = block_plan("J2", MORNING + 255, position="C2", technician="Bo")


def _bay(end: int) -> BayProblem:
    """Two blocks of four hours; H1, with its turnaround of 30 min, is eligible for both."""
    return two_blocks(end, sets=("H1", "H1"))


class TestHeaterSet(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "heater_set"
    feasible = Case(_bay(18 * HOUR), {"J1": 10 * HOUR, "J2": 14 * HOUR + 30})
    boundary = Case(_bay(14 * HOUR + 30), {"J1": 10 * HOUR, "J2": 14 * HOUR + 30})
    infeasible = Case(_bay(14 * HOUR + 29), {"J1": 10 * HOUR})
    broken = (
        _bay(18 * HOUR),
        block_schedule(block_plan(), SECOND, attendant="Cy"),
    )
