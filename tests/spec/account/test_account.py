"""A plan's own account of itself: digest, status, score, bound, and who is left out with a reason."""

from dataclasses import replace
from typing import Any

import pytest

from planner.domain.plan import BayPlan, PlanStatus, Reason, Schedule, Score, UnplannedJob
from planner.domain.sentences import Sentence
from planner.scheduling.verify import verify
from tests.lib.bays import HOUR, bay, block_schedule, job

SHA = "0" * 64
REASON = Reason(code="full", message=Sentence("There is no room for it."))
PROBLEM = bay(job("J1", needed_by=9 * HOUR), job("J2", priority=2))
# J1 ends at 10:00, needed by 9:00: 60 min late. J2 is left out: needed by 12:00, the horizon ends at 24:00,
# (12 h + the horizon's 24 h) x 60 x priority 2 = 4320. Flow: 10 h x 60.
TRUE = Score(60 + 4320, 600)
PLAN = BayPlan(
    problem_sha256=SHA,
    status=PlanStatus.FEASIBLE,
    score=TRUE,
    bound=TRUE.lateness,
    schedule=block_schedule(),
    unplanned=(UnplannedJob(job="J2", reasons=(REASON,)),),
)


@pytest.mark.parametrize(
    "changes",
    [{}, {"bound": 0}, {"status": PlanStatus.OPTIMAL}],
    ids=["a bound that is reached", "a bound below", "optimal at its bound"],
)
def test_a_true_account_is_taken(changes: dict[str, Any]) -> None:
    assert verify(PROBLEM, replace(PLAN, **changes), sha256=SHA) == ()


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"problem_sha256": "1" * 64}, "the plan was made for another problem: the digests differ"),
        ({"score": Score(60, 600)}, "the score says lateness 60 and flow 600; they are 4380 and 600"),
        ({"score": Score(4380, 599)}, "the score says lateness 4380 and flow 599; they are 4380 and 600"),
        ({"bound": 4381}, "the bound 4381 is not below the lateness 4380"),
        (
            {"status": PlanStatus.OPTIMAL, "bound": 4379},
            "said to be optimal with the bound 4379 under the lateness 4380",
        ),
        (
            {"status": PlanStatus.INFEASIBLE},
            "the plan says of itself that the locked work breaks a rule",
        ),
        ({"unplanned": ()}, "J2: neither planned nor left out with a reason"),
        ({"unplanned": 2 * PLAN.unplanned}, "J2: left out more than once"),
    ],
)
def test_an_untrue_account_is_named_alone(changes: dict[str, Any], message: str) -> None:
    (breach,) = verify(PROBLEM, replace(PLAN, **changes), sha256=SHA)
    assert (breach.rule, breach.message) == ("account", message)


def test_a_planned_job_is_not_left_out_as_well() -> None:
    both = (*PLAN.unplanned, UnplannedJob(job="J1", reasons=(REASON,)))
    (breach,) = verify(PROBLEM, replace(PLAN, unplanned=both))
    assert breach.message == "J1: said to be left out, but it is planned"


def test_a_plan_without_jobs_counts_every_job_as_left_out() -> None:
    nobody = (*PLAN.unplanned, UnplannedJob(job="J1", reasons=(REASON,)))
    # J1: needed by 9:00, (15 h + 24 h) x 60 = 2340.
    empty = replace(PLAN, schedule=Schedule(jobs=(), watch=()), unplanned=nobody, score=Score(6660, 0))
    assert verify(PROBLEM, replace(empty, bound=0)) == ()
