"""One attendant for all of a tyre's watched time, unless `handover_allowed`."""

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule, Watch
from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, bay, block_plan, skilled
from tests.lib.rule_spec import Case, ModelledRuleSpec

CHANGE = 8 * HOUR
PASSED_ON = Schedule(
    jobs=(block_plan(),),
    watch=(
        Watch(technician="Cy", span=Span(6 * HOUR + 30, CHANGE), jobs=("J1",)),
        Watch(technician="Di", span=Span(CHANGE, 9 * HOUR + 30), jobs=("J1",)),
    ),
)


def _bay(end: int, *, allowed: bool = False) -> BayProblem:
    """Cy attends until 8:00, Di from then on; a block is watched for three hours."""
    attendants = skilled("Cy", "cure", end=CHANGE), skilled("Di", "cure", start=CHANGE, end=end)
    return bay(technicians=(skilled("Ada", "prep"), *attendants), rules={"handover_allowed": allowed})


class TestHandover(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "handover"
    objection = "watch"  # no single attendant is there for all of it
    feasible = Case(_bay(10 * HOUR, allowed=True), {"J1": 10 * HOUR})
    boundary = Case(_bay(11 * HOUR), {"J1": 11 * HOUR + 30})
    infeasible = Case(_bay(11 * HOUR - 1), {})
    broken = _bay(11 * HOUR), PASSED_ON
