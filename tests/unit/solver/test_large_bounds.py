"""The bound of a large bay, where a step asks only some of the jobs: never above a plan."""

import numpy as np
import pytest

from planner.scheduling.dispatch import dispatch
from planner.scheduling.score import score
from planner.solver.bay import bay_of
from planner.solver.bounds import PriceSearch, bound, lagrange
from planner.solver.bounds.ascent import DailyAscent
from planner.solver.build import whole_state
from planner.solver.limits import SolveLimits
from tests.lib.bays import DAY, bay, job
from tests.lib.brute_force import best_schedule
from tests.lib.random_bays import BaySize, random_bay

TINY = BaySize(jobs=2, technicians=2, heater_sets=1, hours=20, grid_minutes=30, locked=False)


@pytest.fixture
def always_large(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every bay of two jobs or more is asked job by job."""
    monkeypatch.setattr(lagrange, "LARGE_JOBS", 1)
    monkeypatch.setattr(lagrange, "JOBS_ASKED", 1)


@pytest.mark.usefixtures("always_large")
@pytest.mark.parametrize("seed", range(20))
def test_no_bound_asked_in_parts_beats_brute_force(seed: int) -> None:
    problem = random_bay(seed, TINY)
    best = best_schedule(problem)
    assert best is not None
    search = PriceSearch(whole_state(bay_of(problem)))
    assert search.parts == len(problem.jobs) == 2
    for step in range(60):
        search.step(step / 60)
        search.prove()
        assert search.bound <= best[0][0]


@pytest.mark.usefixtures("always_large")
@pytest.mark.parametrize("seed", range(6))
def test_no_bound_asked_in_parts_is_above_a_plan(seed: int) -> None:
    problem = random_bay(seed, BaySize(jobs=9, technicians=3, hours=48, locked=False))
    plan = dispatch(problem)
    assert bound(problem, limits=SolveLimits(work=0.05)) <= score(problem, plan.jobs).lateness


@pytest.mark.usefixtures("always_large")
def test_prices_of_parts_see_that_one_set_cannot_do_three_blocks() -> None:
    # A block of 240 min and its turnaround of 30 fit a 12 h shift twice, not three times: one of three jobs
    # stays out and costs a whole day, 1440 min; alone none is late.
    problem = bay(*(job(f"J{n}", needed_by=DAY) for n in range(3)))
    assert 700 < bound(problem, limits=SolveLimits(work=2.0)) <= 1440


def test_days_move_together_first_and_each_step_alone_later() -> None:
    ascent = DailyAscent((1, 5), steps_a_day=2)
    ascent.move(np.array([[1, 0, 1, 0, 0]], dtype=np.int64), 0.0)
    together = ascent.prices
    # Three days of two steps, the last cut short: what the first steps of the days overrun, all of them pay.
    assert together[0, 0] == together[0, 2] == together[0, 4] > 0
    assert together[0, 1] == together[0, 3] == 0
    ascent.move(np.array([[0, 3, 0, 0, 0]], dtype=np.int64), 0.9)
    assert ascent.prices[0, 1] > ascent.prices[0, 3] == 0
