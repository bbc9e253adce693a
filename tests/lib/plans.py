"""Plans of a small mine, made without a worker."""

import hashlib
from datetime import datetime

from planner.domain.plan import BayPlan, PlanStatus
from planner.models import Plan
from planner.scheduling.dispatch import dispatch
from planner.scheduling.problem_format import problem_write
from planner.scheduling.score import score
from planner.selectors.day_problem import day_problem_get
from planner.services.bay_plan import bay_plan_make
from planner.services.plans import plan_draft_save, plan_publish
from planner.solver.limits import SolveLimits
from tests.lib.mine import Mine, at


def plan_published(mine: Mine, start: datetime, end: datetime) -> Plan:
    """The site's open work from `start` to `end`, dispatched as of `start`, not searched, and published."""
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


def plan_drafted(mine: Mine) -> Plan:
    """A draft of three days from 06:00 on the mine's Monday, searched for a second, with its reasons."""
    day = day_problem_get(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), now=at(5))
    raw = problem_write(day.problem)
    limits = SolveLimits(seconds=1, workers=1, seed=0)
    plan = bay_plan_make(problem=day.problem, sha256=hashlib.sha256(raw).hexdigest(), limits=limits)
    return plan_draft_save(user=mine.supervisor, site=mine.site, day=day, problem_raw=raw, plan=plan)


def plan_next(mine: Mine, number: int | None = None, why: str = "") -> Plan:
    """The same, published after the plan of this number."""
    return plan_publish(user=mine.supervisor, plan=plan_drafted(mine), expected_number=number, why=why)
