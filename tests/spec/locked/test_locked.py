"""Every locked stage stands exactly as given, and nothing else takes what it holds."""

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from tests.lib.bays import MORNING, bay, hands_on, job, planned_job, planned_stage, technician
from tests.lib.rule_spec import Case, RuleSpec

FROM_SEVEN = planned_job("J1", planned_stage("buff", MORNING + 60, MORNING + 120))
AN_HOUR_EARLY = planned_job("J1", planned_stage("buff", MORNING, MORNING + 60))


def _bay(minutes: int) -> BayProblem:
    """J1 stands from 7:00 to 8:00; J2 needs an hour of Ada's shift as well."""
    jobs = job("J1", hands_on("buff", 60)), job("J2", hands_on("buff", 60))
    crew = (technician("Ada", start=MORNING + 120 - minutes, end=MORNING + 120),)
    return bay(*jobs, technicians=crew, locked=(FROM_SEVEN,))


class TestLocked(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "locked"
    feasible = Case(_bay(150), {"J1": MORNING + 120, "J2": MORNING + 30})
    boundary = Case(_bay(120), {"J1": MORNING + 120, "J2": MORNING + 60})
    infeasible = Case(_bay(119), {"J1": MORNING + 120})
    broken = _bay(120), Schedule(jobs=(AN_HOUR_EARLY,), watch=())
