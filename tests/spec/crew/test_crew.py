"""A hands-on stage has exactly its crew: as many as asked, distinct and skilled."""

from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, bay, hands_on, job, one_stage_schedule, technician
from tests.lib.rule_spec import Case, RuleSpec


def _bay(bo_from: int) -> BayProblem:
    """An hour of work for two; Ada leaves at noon, Bo comes later."""
    crew = technician("Ada", end=12 * HOUR), technician("Bo", start=bo_from)
    return bay(job("J1", hands_on("turn over", 60, crew=2)), technicians=crew)


class TestCrew(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "crew"
    feasible = Case(_bay(8 * HOUR), {"J1": 9 * HOUR})
    boundary = Case(_bay(11 * HOUR), {"J1": 12 * HOUR})
    infeasible = Case(_bay(11 * HOUR + 1), {})
    broken = _bay(8 * HOUR), one_stage_schedule("turn over", 8 * HOUR, 9 * HOUR)
