"""Planning again: what has begun stays, what is disturbed moves, and the moves are told."""

from planner.domain.bay_time import Span
from planner.domain.plan import Schedule
from planner.scheduling.verify import schedule_verify
from planner.solver.limits import SolveLimits
from planner.solver.replan import (
    Move,
    job_arrived,
    moves_between,
    replan,
    set_failed,
    stage_runs_over,
    technician_away,
    work_in_hand,
)
from tests.lib.bays import DAY, HOUR, MORNING, bay, block_plan, block_schedule, heater_set, job, technician

LIMITS = SolveLimits(work=3.0)
TWO = bay(
    job("J1", heater_sets=("H1", "H2"), needed_by=DAY),
    job("J2", heater_sets=("H1", "H2"), needed_by=DAY),
    heater_sets=(heater_set("H1"), heater_set("H2")),
)
PUBLISHED = block_schedule(block_plan("J1"), block_plan("J2", start=MORNING + 5 * HOUR))


def test_a_quiet_day_moves_nothing_at_full_stability() -> None:
    found = replan(TWO, PUBLISHED, stability=100, limits=LIMITS)
    assert moves_between(PUBLISHED, found) == ()


def test_a_failed_set_moves_only_what_stood_on_it() -> None:
    # at 07:00 J1 is on H1 and hot; H1 fails from noon... J2, from 11:00 to 15:00 on H1, must go to H2
    now = work_in_hand(TWO, PUBLISHED, now=7 * HOUR)
    failed = set_failed(now, "H1", Span(12 * HOUR, DAY))
    found = replan(failed, PUBLISHED, stability=100, limits=LIMITS)
    assert schedule_verify(failed, found) == ()
    moves = moves_between(PUBLISHED, found)
    assert {move.job for move in moves} == {"J2"}
    assert all(move.minutes == 0 for move in moves)
    assert moves[0].changes == ("heater set H1 to H2",)


def test_a_block_that_has_begun_is_locked_to_its_end() -> None:
    now = work_in_hand(TWO, PUBLISHED, now=7 * HOUR)
    assert [(one.id, [stage.name for stage in one.stages]) for one in now.locked] == [
        ("J1", ["rig", "heat", "cool", "strip"])
    ]
    assert {one.released_at for one in now.jobs} == {7 * HOUR}


def test_a_cure_that_runs_over_moves_the_rest_of_its_block() -> None:
    now = work_in_hand(TWO, PUBLISHED, now=7 * HOUR)
    late = stage_runs_over(now, "J1", "heat", 40)
    was, became = now.locked[0].stages, late.locked[0].stages
    assert [(b.start - a.start, b.end - a.end) for a, b in zip(was, became, strict=True)] == [
        (0, 0),
        (0, 40),
        (40, 40),
        (40, 40),
    ]


def test_a_technician_who_is_away_is_on_no_shift() -> None:
    problem = technician_away(bay(technicians=(technician("Ada"),)), "Ada", Span(0, 9 * HOUR))
    assert [shift.span for shift in problem.technicians[0].shifts] == [Span(9 * HOUR, 18 * HOUR)]


def test_an_urgent_tyre_is_put_in() -> None:
    arrived = job_arrived(bay(), job("J9", priority=50, needed_by=10 * HOUR))
    found = replan(arrived, block_schedule(), stability=10, limits=LIMITS)
    assert Move(job="J9", stage=None, minutes=0, changes=("put in",)) in moves_between(
        block_schedule(), found
    )


def test_a_job_that_is_gone_is_told() -> None:
    nothing = Schedule(jobs=(), watch=())
    assert moves_between(block_schedule(), nothing) == (
        Move(job="J1", stage=None, minutes=0, changes=("taken out",)),
    )
