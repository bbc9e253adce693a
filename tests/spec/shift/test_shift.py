"""Each of a crew is on one shift throughout a stage."""

from planner.domain.problem import BayProblem
from tests.lib.bays import EVENING, MORNING, bay, hands_on, job, one_stage_schedule, technician
from tests.lib.rule_spec import Case, ModelledRuleSpec

HOUR_OF_WORK = hands_on("buff", 60)


def _bay(minutes: int) -> BayProblem:
    """Two jobs of an hour for one technician who is there for so many minutes; the first one matters more."""
    jobs = job("J1", HOUR_OF_WORK, priority=9), job("J2", HOUR_OF_WORK)
    return bay(*jobs, technicians=(technician("Ada", end=MORNING + minutes),))


class TestShift(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "shift"
    also_out = ("one_stage",)  # it counts nobody on shift as nobody free
    feasible = Case(_bay(240), {"J1": MORNING + 60, "J2": MORNING + 120})
    boundary = Case(_bay(120), {"J1": MORNING + 60, "J2": MORNING + 120})
    infeasible = Case(_bay(119), {"J1": MORNING + 60})
    broken = bay(job("J1", HOUR_OF_WORK)), one_stage_schedule("buff", EVENING - 30, EVENING + 30)
