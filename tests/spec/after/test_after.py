"""The jobs of the same tyre that come first are planned and over."""

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from tests.lib.bays import MORNING, bay, hands_on, job, planned_job, planned_stage, technician
from tests.lib.rule_spec import Case, ModelledRuleSpec

HOUR_OF_WORK = hands_on("buff", 60)
AT_ONCE = Schedule(
    jobs=(
        planned_job("J1", planned_stage("buff", MORNING, MORNING + 60)),
        planned_job("J2", planned_stage("buff", MORNING, MORNING + 60, "Bo")),
    ),
    watch=(),
)


def _bay(minutes: int) -> BayProblem:
    """Two jobs of an hour, two technicians for so many minutes; the second job comes after the first."""
    crew = tuple(technician(name, end=MORNING + minutes) for name in ("Ada", "Bo"))
    return bay(job("J1", HOUR_OF_WORK), job("J2", HOUR_OF_WORK, after=("J1",)), technicians=crew)


class TestAfter(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "after"
    feasible = Case(_bay(240), {"J1": MORNING + 60, "J2": MORNING + 120})
    boundary = Case(_bay(120), {"J1": MORNING + 60, "J2": MORNING + 120})
    infeasible = Case(_bay(105), {"J1": MORNING + 60})
    broken = _bay(120), AT_ONCE
