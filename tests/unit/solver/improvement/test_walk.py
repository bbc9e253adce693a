"""The walk through plans: what it keeps, what it takes off, and that the board never lies."""

from random import Random

import pytest

from planner.domain.plan import BayPlan, PlanStatus, Reason, UnplannedJob
from planner.domain.problem import BayProblem
from planner.domain.sentences import Sentence
from planner.scheduling.dispatch.bay import bay_of
from planner.scheduling.dispatch.board import Board
from planner.scheduling.dispatch.construct import best_plan, board_of, score_of
from planner.scheduling.dispatch.restore import schedule_place
from planner.scheduling.dispatch.share_out import schedule_of
from planner.scheduling.score import score
from planner.scheduling.verify import verify
from planner.solver.improvement.cooling import COLD_LATENESS, HOT_LATENESS, SHARES, Cooling
from planner.solver.improvement.ruin import RUINS, Ruin, around_a_chain, ruins_of, with_chains
from planner.solver.improvement.walk import Walk
from tests.lib.bays import HOUR, bay, hands_on, job
from tests.lib.random_bays import BaySize, random_bay

SIZE = BaySize(jobs=8, technicians=3, hours=48, locked=False)


def filled(problem: BayProblem) -> Board:
    board = board_of(bay_of(problem))
    best_plan(board, seed=0, restarts=0)
    return board


def breaches(problem: BayProblem, board: Board) -> list[str]:
    """What `verify` finds in the plan on the board."""
    schedule = schedule_of(board)
    planned = {one.id for one in schedule.jobs}
    why = (Reason(code="none", message=Sentence("not asked here")),)
    plan = BayPlan(
        problem_sha256="0" * 64,
        status=PlanStatus.FEASIBLE,
        score=score(problem, schedule.jobs),
        bound=0,
        schedule=schedule,
        unplanned=tuple(UnplannedJob(job=j.id, reasons=why) for j in problem.jobs if j.id not in planned),
    )
    return [breach.message for breach in verify(problem, plan)]


@pytest.mark.parametrize("seed", range(12))
def test_every_plan_that_a_walk_remembers_holds_every_rule(seed: int) -> None:
    problem = random_bay(seed, SIZE)
    walk = Walk(filled(problem), Random(seed), Cooling(usual=2.0, length=400))
    before = walk.best_score
    walk.advance(400)
    walk.board.restore(walk.best)
    assert walk.best_score == score_of(walk.board) <= before
    assert breaches(problem, walk.board) == []


@pytest.mark.parametrize("seed", range(12))
def test_a_board_emptied_job_by_job_is_as_it_was(seed: int) -> None:
    board = board_of(bay_of(random_bay(seed, SIZE)))
    busy, left, _ = board.snapshot()
    best_plan(board, seed=0, restarts=0)
    for number, placement in enumerate(board.placements):
        if placement is not None:
            board.remove(number)
    assert (board.busy, board.left) == (busy, left)


@pytest.mark.parametrize("seed", range(12))
def test_a_schedule_put_back_on_a_board_is_the_same_plan(seed: int) -> None:
    problem = random_bay(seed, SIZE)
    board = filled(problem)
    again = board_of(bay_of(problem))
    schedule_place(again, schedule_of(board))
    assert (again.busy, again.left) == (board.busy, board.left)
    assert score_of(again) == score_of(board)


@pytest.mark.parametrize("ruin", RUINS)
def test_each_neighbourhood_names_planned_jobs_once_and_no_more_than_asked(ruin: Ruin) -> None:
    problem = bay(*(job(f"J{n}", hands_on("buff", HOUR), needed_by=8 * HOUR) for n in range(14)))
    board = filled(problem)
    for seed in range(20):
        chosen = ruin(board, Random(seed), 4)
        assert 1 <= len(chosen) <= 4
        assert len(set(chosen)) == len(chosen)
        assert all(board.placements[number] is not None for number in chosen)


def chain(*, long: bool = False) -> BayProblem:
    """Three jobs that follow one another; a `long` second one fits nowhere."""
    return bay(
        job("J1", hands_on("buff", 30)),
        job("J2", hands_on("buff", 99 * HOUR if long else 30), after=("J1",)),
        job("J3", hands_on("buff", 30), after=("J2",)),
    )


def test_a_job_is_taken_off_with_those_after_it() -> None:
    assert with_chains(filled(chain()), [0]) == [0, 1, 2]


def test_a_left_out_job_is_put_back_with_those_that_must_come_before_it() -> None:
    assert with_chains(filled(chain(long=True)), [2]) == [2, 1]


def test_a_chain_is_taken_up_whole_and_only_where_there_is_one() -> None:
    board = filled(chain(long=True))
    assert around_a_chain in ruins_of(board.bay)
    tried = {tuple(sorted(around_a_chain(board, Random(seed), 2))) for seed in range(20)}
    assert tried == {(0, 1), (0, 1, 2)}  # as far as the second or the third, planned or not
    assert ruins_of(filled(bay(job("J1", hands_on("buff", 30)))).bay) == RUINS


def test_cooling_falls_in_each_cycle_and_starts_each_from_less() -> None:
    cooling = Cooling(usual=1.0, length=1000)
    ends = [int(1000 * sum(SHARES[: number + 1])) for number in range(len(SHARES))]
    assert cooling.at(0, in_time=False) == HOT_LATENESS
    assert [cooling.cycle(end - 1) for end in ends] == [0, 1, 2, 3]
    starts = [cooling.at(start + 1, in_time=False) for start in (0, *ends[:-1])]
    assert starts == sorted(starts, reverse=True)
    for end in ends:
        assert cooling.at(end - 1, in_time=False) == pytest.approx(COLD_LATENESS, rel=0.05)
