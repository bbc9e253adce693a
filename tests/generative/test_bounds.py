"""No bound is above what brute force reaches, and none is empty talk on a bay that cannot do it all."""

import pytest

from planner.solver.bay import bay_of
from planner.solver.bounds import PriceSearch, bound
from planner.solver.build import whole_state
from planner.solver.limits import SolveLimits
from tests.lib.bays import DAY, bay, job
from tests.lib.brute_force import best_schedule
from tests.lib.random_bays import BaySize, random_bay

TINY = BaySize(jobs=2, technicians=2, heater_sets=1, hours=20, grid_minutes=30, locked=False)


@pytest.mark.parametrize("flow_weight", [0, 1])
@pytest.mark.parametrize("seed", range(20))
def test_no_bound_beats_brute_force(seed: int, flow_weight: int) -> None:
    problem = random_bay(seed, TINY)
    best = best_schedule(problem)
    assert best is not None
    (lateness, flow), _ = best
    search = PriceSearch(whole_state(bay_of(problem)), flow_weight=flow_weight)
    for step in range(60):
        search.step(step / 60)
        assert search.bound <= lateness + flow_weight * flow


@pytest.mark.parametrize("flow_weight", [0, 1])
@pytest.mark.parametrize("seed", range(20))
def test_no_best_plan_holds_what_prices_rule_out(seed: int, flow_weight: int) -> None:
    problem = random_bay(seed, TINY)
    best = best_schedule(problem)
    assert best is not None
    (lateness, flow), schedule = best
    search = PriceSearch(whole_state(bay_of(problem)), flow_weight=flow_weight)
    for step in range(60):
        search.step(step / 60)
        narrowing = search.narrowing(lateness + flow_weight * flow)
        ends = {planned.id: planned.end for planned in schedule.jobs}
        assert narrowing.must <= ends.keys()
        assert not narrowing.never & ends.keys()
        for planned in schedule.jobs:
            pieces = search.state.bay.works[planned.id].pieces
            for piece, steps in zip(pieces, narrowing.starts[planned.id], strict=True):
                start = planned.stages[piece.stages.start].start
                assert steps >> (start // problem.grid_minutes) & 1


@pytest.mark.parametrize("seed", range(12))
def test_a_course_is_as_cheap_through_its_best_start_of_any_piece(seed: int) -> None:
    search = PriceSearch(whole_state(bay_of(random_bay(seed, BaySize(jobs=6, locked=False)))))
    for step in range(30):
        search.step(step / 30)
    for one in search.jobs:
        if one.chain is not None:
            cheapest, _ = one.chain.cheapest(one.at_end)
            through = [int(prices.min()) for _, prices in one.chain.by_start(one.at_end)]
            assert through == [cheapest] * len(through)


def test_prices_rule_out_to_leave_a_job_out_that_costs_too_much() -> None:
    # The set does all day one block after the other; whoever plans both of two is never late.
    problem = bay(*(job(f"J{n}", needed_by=DAY) for n in range(2)))
    search = PriceSearch(whole_state(bay_of(problem)))
    search.step(0.0)
    narrowing = search.narrowing(0)
    assert narrowing.must == {"J0", "J1"}
    assert not narrowing.never


def test_prices_see_that_one_set_cannot_do_three_blocks() -> None:
    # A block of 240 min and its turnaround of 30 fit a 12 h shift twice (240 + 30 + 240 = 510), not three
    # times (780 > 720): one of three jobs stays out and costs a whole day, 1440 min; alone none is late.
    problem = bay(*(job(f"J{n}", needed_by=DAY) for n in range(3)))
    assert 700 < bound(problem, limits=SolveLimits(work=2.0)) <= 1440


def test_the_same_work_gives_the_same_bound() -> None:
    problem = random_bay(5, BaySize(jobs=6, locked=False))
    twice = [bound(problem, limits=SolveLimits(work=0.01)) for _ in range(2)]
    assert twice[0] == twice[1]
