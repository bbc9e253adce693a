"""A technician does one hands-on stage at a time."""

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from tests.lib.bays import MORNING, bay, hands_on, job, planned_job, planned_stage, technician
from tests.lib.rule_spec import Case, ModelledRuleSpec

HOUR_OF_WORK = hands_on("buff", 60)
AT_ONCE = Schedule(
    jobs=tuple(planned_job(name, planned_stage("buff", MORNING, MORNING + 60)) for name in ("J1", "J2")),
    watch=(),
)


def _bay(minutes: int) -> BayProblem:
    """Two jobs of an hour that must be over by the horizon's end; the first one matters more."""
    jobs = job("J1", HOUR_OF_WORK, priority=9), job("J2", HOUR_OF_WORK)
    return bay(*jobs, technicians=(technician("Ada"),), horizon_end=MORNING + minutes)


class TestOneStage(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "one_stage"
    feasible = Case(_bay(240), {"J1": MORNING + 60, "J2": MORNING + 120})
    boundary = Case(_bay(120), {"J1": MORNING + 60, "J2": MORNING + 120})
    infeasible = Case(_bay(119), {"J1": MORNING + 60})
    broken = _bay(120), AT_ONCE
