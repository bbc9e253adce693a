"""Random small bays: every planner's plan holds, and on tiny ones the solver's equals brute force."""

import pytest

from planner.domain.plan import PlanStatus
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch import LockedWorkError, dispatch
from planner.scheduling.score import score
from planner.scheduling.verify import schedule_verify
from planner.solver.full import solve_full
from planner.solver.limits import SolveLimits
from tests.lib.brute_force import best_schedule
from tests.lib.random_bays import BaySize, random_bay

TINY = BaySize(jobs=2, technicians=2, heater_sets=1, hours=20, grid_minutes=30, locked=False)
LIMITS = SolveLimits(work=20.0, workers=1)


def _tiny(seed: int) -> BayProblem:
    return random_bay(seed, TINY)


@pytest.mark.parametrize("seed", range(60))
def test_a_dispatched_plan_holds_every_rule(seed: int) -> None:
    problem = random_bay(seed, BaySize(jobs=4))
    try:
        schedule = dispatch(problem, restarts=1)
    except LockedWorkError as fault:
        assert problem.locked
        assert fault.breaches
        return
    assert schedule_verify(problem, schedule) == ()


@pytest.mark.parametrize("seed", range(12))
def test_on_a_tiny_bay_the_solver_equals_brute_force(seed: int) -> None:
    problem = _tiny(seed)
    best = best_schedule(problem)
    assert best is not None
    schedule, bound, status = solve_full(problem, start=dispatch(problem), limits=LIMITS)
    assert schedule is not None
    assert schedule_verify(problem, schedule) == ()
    assert status is PlanStatus.OPTIMAL
    reached = score(problem, schedule.jobs)
    assert (reached.lateness, reached.flow, bound) == (*best[0], best[0][0])


@pytest.mark.parametrize("seed", range(12))
def test_the_brute_force_plan_holds_and_no_planner_beats_it(seed: int) -> None:
    problem = _tiny(seed)
    best = best_schedule(problem)
    assert best is not None
    assert schedule_verify(problem, best[1]) == ()
    reached = score(problem, dispatch(problem).jobs)
    assert (reached.lateness, reached.flow) >= best[0]
