"""The least and the greatest wait between neighbouring stages, rounded up and down to the grid."""

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift, Technician
from tests.lib.bays import HOUR, bay, hands_on, job, planned_job, planned_stage
from tests.lib.rule_spec import Case, ModelledRuleSpec

SHIFTS = (Shift(span=Span(6 * HOUR, 7 * HOUR)), Shift(span=Span(9 * HOUR, 10 * HOUR)))
ADA = Technician(id="Ada", skills=frozenset({"prep"}), shifts=SHIFTS)
BUFF, FILL = planned_stage("buff", 6 * HOUR, 7 * HOUR), planned_stage("fill", 9 * HOUR, 10 * HOUR)


def _bay(most: int | None) -> BayProblem:
    """Two stages that fill a shift each, 120 min apart."""
    stages = hands_on("buff", 60, min_wait_after=20, max_wait_after=most), hands_on("fill", 60)
    return bay(job("J1", *stages), technicians=(ADA,))


class TestWaits(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "waits"
    tempting = bay(
        job("J0", hands_on("buff", 120), needed_by=0, priority=100),
        job("J1", hands_on("cement", 30, min_wait_after=60), hands_on("fill", 30), needed_by=0),
    )
    feasible = Case(_bay(None), {"J1": 10 * HOUR})
    boundary = Case(_bay(120), {"J1": 10 * HOUR})
    infeasible = Case(_bay(119), {})
    broken = _bay(119), Schedule(jobs=(planned_job("J1", BUFF, FILL),), watch=())
