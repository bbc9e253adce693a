"""Golden days: invented bays with proven plans. A planner that changes must not lose what was once found."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from planner.domain.plan import BayPlan, PlanStatus, Score
from planner.scheduling.dispatch import dispatch
from planner.scheduling.plan_format import plan_read, plan_write
from planner.scheduling.problem_format import ProblemFile, problem_read, problem_write
from planner.scheduling.score import score
from planner.scheduling.verify import verify
from planner.services.bay_plan import bay_plan_make
from planner.solver.limits import SolveLimits

FOLDER = Path(__file__).parents[2] / "fixtures" / "golden"
BEST = {
    "day-with-work-in-hand": Score(36, 4275),
    "clock-change": Score(33398, 4110),
    "two-days-of-ten-tyres": Score(58055, 10710),
}
"""The least lateness and flow, proven by the whole model when the day was drawn."""
QUICK = ("day-with-work-in-hand", "clock-change")
"""Days that are proven again in a few seconds."""


@dataclass(frozen=True, slots=True)
class Day:
    """A problem file and its plan file."""

    problem: ProblemFile
    raw: bytes
    plan: BayPlan
    raw_plan: bytes


def _day(name: str) -> Day:
    raw, raw_plan = ((FOLDER / f"{name}.{kind}.json").read_bytes() for kind in ("problem", "plan"))
    problem = problem_read(raw)
    return Day(problem, raw, plan_read(raw_plan, problem.problem), raw_plan)


@pytest.mark.parametrize("name", BEST)
def test_the_plan_on_file_holds_and_is_the_best(name: str) -> None:
    day = _day(name)
    assert verify(day.problem.problem, day.plan, sha256=day.problem.sha256) == ()
    assert (day.plan.score, day.plan.bound, day.plan.status) == (
        BEST[name],
        BEST[name].lateness,
        PlanStatus.OPTIMAL,
    )


@pytest.mark.parametrize("name", BEST)
def test_both_files_are_written_as_they_stand(name: str) -> None:
    day = _day(name)
    assert problem_write(day.problem.problem) == day.raw
    assert plan_write(day.plan, day.problem.problem) == day.raw_plan


@pytest.mark.parametrize("name", BEST)
def test_dispatch_is_not_better_than_the_best(name: str) -> None:
    problem = _day(name).problem.problem
    assert score(problem, dispatch(problem).jobs) >= BEST[name]


@pytest.mark.parametrize("name", QUICK)
def test_the_best_is_found_and_proven_again(name: str) -> None:
    day = _day(name)
    plan = bay_plan_make(
        problem=day.problem.problem, sha256=day.problem.sha256, limits=SolveLimits(work=12.0)
    )
    assert (plan.score, plan.bound, plan.status) == (BEST[name], BEST[name].lateness, PlanStatus.OPTIMAL)
