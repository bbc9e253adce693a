"""Moves on the tiny day: what holds, what is refused and why, and what is near."""

from planner.domain.plan import Schedule
from planner.scheduling.dispatch import dispatch
from planner.scheduling.verify import schedule_verify
from planner.services.plan_edit.first import first_schedule
from planner.services.plan_edit.moving import Move
from planner.services.plan_edit.nearest import nearest_move, placed_move
from tests.lib import one_cure

PROBLEM = one_cure.problem()
PLAN = one_cure.schedule()


def _stages(schedule: Schedule | None, job: str = "WO-0001") -> dict[str, int]:
    assert schedule is not None
    planned = next(each for each in schedule.jobs if each.id == job)
    return {stage.name: stage.start for stage in planned.stages}


def test_the_day_itself_holds() -> None:
    assert schedule_verify(PROBLEM, PLAN) == ()


def test_a_heat_block_moves_whole_and_its_watch_with_it() -> None:
    # From 07:30 to 08:30 (150 min): the block ends at 450, before the isolation at 700.
    placed = placed_move(PROBLEM, PLAN, Move(job="WO-0001", stage="rig", start=150))
    assert _stages(placed.schedule) == {
        "prepare": 0, "dry": 60, "rig": 150, "warm": 180, "hold": 240, "cool": 360, "strip": 420,
    }  # fmt: skip
    assert placed.schedule
    assert schedule_verify(PROBLEM, placed.schedule) == ()
    assert sum(watch.span.minutes for watch in placed.schedule.watch) == 240  # 60 + 120 + 60


def test_a_move_into_the_night_says_what_it_breaks() -> None:
    placed = placed_move(PROBLEM, PLAN, Move(job="WO-0001", stage="rig", start=780))
    assert placed.schedule is None
    assert any("shift" in words for words in placed.breaches)


def test_the_nearest_place_that_holds_is_near() -> None:
    # Cured hot until 700 at the latest: rig 30 + warm 60 + hold 120 must end by 700, so rig by 490; but cool
    # 60 and strip 30 must end within the shift, by 720, so rig by 420 (the block is 300 long).
    near = nearest_move(PROBLEM, PLAN, Move(job="WO-0001", stage="rig", start=450))
    assert near is not None
    assert near.start == 420


def test_another_person_takes_over_a_stage() -> None:
    move = Move(job="WO-0001", stage="prepare", start=0, technician="ben", instead_of="ana")
    placed = placed_move(PROBLEM, PLAN, move)
    assert placed.schedule
    assert placed.schedule.jobs[0].stages[0].technicians == ("ben",)


def test_pulling_the_block_forward_pulls_the_job_along_or_is_refused() -> None:
    placed = placed_move(PROBLEM, PLAN, Move(job="WO-0001", stage="rig", start=30))
    assert placed.schedule is None


def test_the_first_job_displaces_the_other_on_the_only_set() -> None:
    problem = one_cure.problem(jobs=(one_cure.job("WO-0001"), one_cure.job("WO-0002")))
    schedule = dispatch(problem)
    firsts = {job.id: job.end for job in schedule.jobs}
    last = max(firsts, key=lambda job: firsts[job])
    moved = first_schedule(problem, schedule, last)
    ends = {job.id: job.end for job in moved.jobs}
    assert ends[last] == min(ends.values())
    assert set(ends) == set(firsts)
    assert schedule_verify(problem, moved) == ()
