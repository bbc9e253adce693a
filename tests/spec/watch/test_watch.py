"""Every watched minute has exactly one attendant."""

from planner.domain.plan import Schedule
from planner.domain.problem import BayProblem
from tests.lib.bays import HOUR, bay, block_plan, job, skilled
from tests.lib.rule_spec import Case, ModelledRuleSpec


def _bay(end: int, *, watch_cool_down: bool = True) -> BayProblem:
    """Ada does the work, Cy attends the cures until he leaves."""
    crew = skilled("Ada", "prep"), skilled("Cy", "cure", end=end)
    return bay(technicians=crew, rules={"watch_cool_down": watch_cool_down})


class TestWatch(ModelledRuleSpec):
    """Expected ends stand in minutes of the day: `10 * HOUR` is 10:00."""

    stem = "watch"
    also_out = ("attendant_load",)  # it counts nobody there as no tyre allowed
    feasible = Case(_bay(8 * HOUR + 30, watch_cool_down=False), {"J1": 10 * HOUR})
    boundary = Case(_bay(9 * HOUR + 30), {"J1": 10 * HOUR})
    infeasible = Case(_bay(9 * HOUR + 29), {})
    broken = bay(job()), Schedule(jobs=(block_plan(),), watch=())
