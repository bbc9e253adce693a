"""A planned job has every stage once, in order; a job is planned whole or not at all."""

from planner.domain.plan import PlannedJob, Schedule
from tests.lib.bays import BLOCK, HOUR, bay, block_plan, hands_on, job, watch
from tests.lib.rule_spec import Case, RuleSpec

SHORT = hands_on("buff", 60)
TOO_LONG = hands_on("fill", 13 * HOUR)
ALL_DAY = hands_on("fill", 11 * HOUR)


def _without_strip() -> Schedule:
    planned = block_plan()
    return Schedule(jobs=(PlannedJob(id="J1", stages=planned.stages[:-1]),), watch=(watch(planned),))


class TestStages(RuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "stages"
    feasible = Case(bay(job("J1", SHORT, *BLOCK)), {"J1": 11 * HOUR})
    boundary = Case(bay(job("J1", SHORT, ALL_DAY)), {"J1": 18 * HOUR})
    infeasible = Case(bay(job("J1", SHORT, TOO_LONG)), {})
    broken = bay(), _without_strip()
