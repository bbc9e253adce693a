"""Single-machine weighted tardiness, 40 jobs: OR-Library's wt40 with its published optima.

Source: Crauwels, Potts and Van Wassenhove 1998, in J. E. Beasley's OR-Library; the file names it too.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from planner.domain.problem import BayProblem
from planner.domain.work import Job
from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.solver.bounds import bound
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from tests.outside.scheduling.shops import operation, shop

INSTANCES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[3] / "fixtures" / "published" / "wt40-three.json").read_text()
)["instances"]


def _problem(instance: dict[str, Any]) -> BayProblem:
    rows = zip(instance["processing"], instance["weight"], instance["due"], strict=True)
    jobs = [
        Job(
            id=f"J{number}",
            priority=weight,
            released_at=0,
            needed_by=due,
            stages=(operation(0, 0, minutes),),
        )
        for number, (minutes, weight, due) in enumerate(rows)
    ]
    return shop(jobs, 1, sum(instance["processing"]))


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda one: f"number {one['number']}")
def test_plan_and_bound_hold_the_published_optimum_between_them(instance: dict[str, Any]) -> None:
    problem = _problem(instance)
    schedule, _, _ = solve_full(problem, start=dispatch(problem), limits=SolveLimits(work=1.0))
    assert schedule is not None
    assert schedule_verify(problem, schedule) == ()
    reached = score(problem, schedule.jobs).lateness
    proven = bound(problem, limits=SolveLimits(work=2.0))
    assert proven <= instance["optimum"] <= reached
