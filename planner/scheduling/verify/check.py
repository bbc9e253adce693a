"""The checker's two doors: a whole plan, and a schedule that somebody is still moving."""

from planner.domain.breach import Breach
from planner.domain.plan import BayPlan, Schedule
from planner.domain.problem import BayProblem
from planner.scheduling.verify.account import account_check
from planner.scheduling.verify.rules import RULES
from planner.scheduling.verify.view import PlanView


def verify(problem: BayProblem, plan: BayPlan, *, sha256: str | None = None) -> tuple[Breach, ...]:
    """Every rule of the bay that a plan breaks, and every figure of its own that is wrong.

    Args:
        problem: what was to be planned.
        plan: the answer.
        sha256: the digest of the problem file's bytes, where the plan must carry it.

    Returns:
        The breaches, rule by rule; none where the plan holds.

    """
    return (*schedule_verify(problem, plan.schedule), *account_check(problem, plan, sha256))


def schedule_verify(problem: BayProblem, schedule: Schedule) -> tuple[Breach, ...]:
    """Every rule of the bay that a schedule breaks; its score and who is left out are not looked at."""
    view = PlanView.of(problem, schedule)
    return tuple(breach for check in RULES.values() for breach in check(view))
