"""A published plan in a fraction of a second: dispatched, not searched."""

import hashlib
from datetime import datetime

from planner.domain.plan import BayPlan, PlanStatus
from planner.models import Plan
from planner.scheduling.dispatch import dispatch
from planner.scheduling.problem_format import problem_write
from planner.scheduling.score import score
from planner.selectors.day_problem import day_problem_get
from planner.services.plans import plan_draft_save, plan_publish
from tests.lib.mine import Mine


def plan_published(mine: Mine, start: datetime, end: datetime) -> Plan:
    """The site's open work from `start` to `end`, planned as of `start` and published."""
    day = day_problem_get(user=mine.supervisor, site=mine.site, start=start, end=end, now=start)
    raw = problem_write(day.problem)
    schedule = dispatch(day.problem)
    plan = BayPlan(
        problem_sha256=hashlib.sha256(raw).hexdigest(),
        status=PlanStatus.FEASIBLE,
        score=score(day.problem, schedule.jobs),
        bound=0,
        schedule=schedule,
        unplanned=(),
    )
    draft = plan_draft_save(user=mine.supervisor, site=mine.site, day=day, problem_raw=raw, plan=plan)
    return plan_publish(user=mine.supervisor, plan=draft, expected_number=None)
