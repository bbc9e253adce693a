"""The solver as a whole: never worse than its start, the same for the same work, over when it is told."""

from dataclasses import replace
from time import monotonic

import pytest

from planner.domain.plan import PlanStatus, Schedule, Score
from planner.domain.problem import BayProblem
from planner.domain.progress import Progress
from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.solver.limits import SolveLimits
from planner.solver.solve import SMALL_JOBS, solve
from tests.lib.bays import DAY, HOUR, bay, hands_on, job
from tests.lib.random_bays import BaySize, random_bay


def queue(jobs: int) -> BayProblem:
    """More one-hour works than one shift of twelve hours holds, the dearest ones last in the file."""
    works = (
        job(f"J{number}", hands_on("buff", HOUR), priority=1 + number % 5, needed_by=(6 + number % 9) * HOUR)
        for number in range(jobs)
    )
    return bay(*works, horizon_end=DAY)


def scored(problem: BayProblem, schedule: Schedule) -> Score:
    return score(problem, schedule.jobs)


def test_a_small_bay_is_proven_optimal() -> None:
    problem = queue(5)
    found = solve(problem, start=dispatch(problem), limits=SolveLimits(seconds=30))
    assert found.status is PlanStatus.OPTIMAL
    # One pair of hands from 06:00; the works end at 07:00 to 11:00 and are needed from 06:00 to 10:00 by
    # priorities 1 to 5: each is an hour late in that order, 60 x (1 + 2 + 3 + 4 + 5) at most.
    assert scored(problem, found.schedule).lateness == found.bound <= 900


@pytest.mark.parametrize("seed", range(4))
def test_no_plan_is_worse_than_its_start(seed: int) -> None:
    problem = random_bay(seed, BaySize(jobs=6, technicians=3, hours=48, locked=False))
    start = dispatch(problem)
    found = solve(problem, start=start, limits=SolveLimits(work=1.0, seed=seed))
    assert scored(problem, found.schedule) <= scored(problem, start)
    assert found.bound <= scored(problem, found.schedule).lateness


@pytest.mark.parametrize("workers", [1, 2])
def test_the_same_seed_and_work_give_the_same_plan(workers: int) -> None:
    problem = queue(SMALL_JOBS + 6)
    limits = SolveLimits(work=2.0, workers=workers, seed=5)
    first, second = (solve(problem, start=dispatch(problem), limits=limits) for _ in range(2))
    assert first == second


def test_a_queue_too_long_for_the_day_gets_better_than_its_start() -> None:
    problem = queue(SMALL_JOBS + 6)
    # A poor start: only the first two works of the file.
    some = dispatch(problem)
    poor = replace(some, jobs=some.jobs[:2])
    found = solve(problem, start=poor, limits=SolveLimits(work=2.0))
    assert scored(problem, found.schedule) < scored(problem, poor)
    # Twelve hours of hands, one hour each.
    assert len(found.schedule.jobs) == 12


def test_a_wish_to_stop_is_heard_within_a_second() -> None:
    problem = queue(SMALL_JOBS + 6)
    begun = monotonic()
    found = solve(
        problem, start=dispatch(problem), limits=SolveLimits(seconds=60, workers=2), stop=lambda: True
    )
    # Not a measure of speed: without the wish it would take the whole minute.
    assert monotonic() - begun < 30
    assert found.schedule.jobs


def test_progress_tells_better_and_better_plans() -> None:
    problem = queue(SMALL_JOBS + 6)
    heard: list[Progress] = []
    solve(problem, start=dispatch(problem), limits=SolveLimits(work=2.0), listener=heard.append)
    scores = [moment.score for moment in heard if moment.score is not None]
    assert scores == sorted(scores, reverse=True)
    assert {moment.phase for moment in heard} >= {"improvement"}
