"""No hands-on work while attending, unless `attendant_may_work`."""

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, bay, block_plan, hands_on, job, planned_job, planned_stage, technician, watch
from tests.lib.rule_spec import Case, ModelledRuleSpec

DURING_THE_CURE = Schedule(
    jobs=(block_plan(), planned_job("J2", planned_stage("buff", 7 * HOUR, 8 * HOUR))),
    watch=(watch(block_plan()),),
)


def _bay(end: int, *, may_work: bool = False) -> BayProblem:
    """Ada has a block of four hours, late from its start on, and an hour of other work."""
    jobs = job("J1", priority=9, needed_by=6 * HOUR), job("J2", hands_on("buff", 60))
    crew = (technician("Ada", end=end),)
    return bay(*jobs, technicians=crew, rules={"attendant_may_work": may_work})


class TestAttendantWork(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "attendant_work"
    objection = "watch"  # nobody is left who may attend
    feasible = Case(_bay(10 * HOUR, may_work=True), {"J1": 10 * HOUR, "J2": 7 * HOUR + 30})
    boundary = Case(_bay(11 * HOUR), {"J1": 10 * HOUR, "J2": 11 * HOUR})
    infeasible = Case(_bay(11 * HOUR - 1), {"J1": 10 * HOUR})
    broken = _bay(11 * HOUR), DURING_THE_CURE
