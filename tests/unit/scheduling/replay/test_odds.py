"""The odds of a plan whose replays can be worked out by hand."""

from dataclasses import replace

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift
from planner.domain.work import Stage, StageKind
from planner.scheduling.replay import Spread, odds_for
from tests.lib import bays

HOUR = bays.HOUR
SURE = Spread()
TWICE = Spread(median=2.0, p90=2.0)
PREP = bays.hands_on("buff", 60, place="prep")


def two_days(*jobs: object, **more: object) -> BayProblem:
    """A bay with the same day shift on two days, 06:00 to 18:00."""
    days = tuple(Shift(span=Span(day + 6 * HOUR, day + 18 * HOUR)) for day in (0, bays.DAY))
    ada = replace(bays.technician("Ada"), shifts=days)
    return bays.bay(*jobs, technicians=(ada,), horizon_end=2 * bays.DAY, **more)  # type: ignore[arg-type]


def planned(name: str, start: int, *, buffed_from: int | None = None, **held: str) -> PlannedJob:
    """A job of one four-hour heat block from `start`, with an hour's buffing before it where asked."""
    block = bays.block_plan(name, start, **held)
    if buffed_from is None:
        return block
    buff = PlannedStage(
        name="buff", start=buffed_from, end=buffed_from + 60, technicians=("Ada",), position="P1"
    )
    return replace(block, stages=(buff, *block.stages))


def schedule(*jobs: PlannedJob) -> Schedule:
    return Schedule(jobs=jobs, watch=())


def sure(problem: BayProblem, **by_stage: Spread) -> dict[tuple[str, str], Spread]:
    """No scatter anywhere but in the stages named."""
    return {
        (job.id, stage.name): by_stage.get(stage.name, SURE) for job in problem.jobs for stage in job.stages
    }


def test_a_plan_without_scatter_is_replayed_as_planned() -> None:
    problem = two_days(bays.job("J1", PREP, *bays.BLOCK))
    plan = schedule(planned("J1", 8 * HOUR, buffed_from=6 * HOUR))
    (odds,) = odds_for(problem, plan, spreads=sure(problem), replays=3)
    assert (odds.in_time, odds.p50, odds.p90) == (1.0, 12 * HOUR, 12 * HOUR)  # 08:00 and four hours


def test_a_cure_that_would_run_past_attended_time_is_started_the_next_morning() -> None:
    problem = two_days(bays.job("J1", PREP, *bays.BLOCK))
    plan = schedule(planned("J1", 14 * HOUR, buffed_from=13 * HOUR))
    (odds,) = odds_for(problem, plan, spreads=sure(problem, buff=TWICE), replays=3)
    # Buffing ends at 15:00, four hours from there pass 18:00; so 06:00 the next day, and four hours.
    assert odds.p50 == bays.DAY + 10 * HOUR
    assert odds.in_time == 0.0


def test_a_tyre_that_no_longer_fits_the_horizon_has_no_ready_time() -> None:
    problem = bays.bay(bays.job("J1", PREP, *bays.BLOCK))
    plan = schedule(planned("J1", 14 * HOUR, buffed_from=13 * HOUR))
    (odds,) = odds_for(problem, plan, spreads=sure(problem, buff=TWICE), replays=3)
    assert (odds.in_time, odds.p50, odds.p90) == (0.0, None, None)


def test_the_set_is_waited_for_with_its_turnaround() -> None:
    set_one = bays.heater_set("H1", turnaround_minutes=30)
    problem = two_days(bays.job("J1"), bays.job("J2"), heater_sets=(set_one,))
    plan = schedule(planned("J1", 6 * HOUR), planned("J2", 10 * HOUR + 30))
    odds = odds_for(problem, plan, spreads=sure(problem, cool=TWICE), replays=2)
    # Each cool-down takes 60 min more: 11:00, turned round by 11:30, then four planned hours and 60 min more.
    assert [one.p50 for one in odds] == [11 * HOUR, 16 * HOUR + 30]


def test_one_attendant_with_one_tyre_at_a_time_makes_the_second_wait() -> None:
    sets = (bays.heater_set("H1"), bays.heater_set("H2"))
    spots = (bays.position("C1", "cure"), bays.position("C2", "cure"))
    jobs = (bays.job("J1"), bays.job("J2", heater_sets=("H2",), positions={"cure": ("C2",)}))
    problem = two_days(*jobs, heater_sets=sets, positions=spots)
    second = planned("J2", 10 * HOUR, position="C2", heater_set="H2")
    plan = schedule(planned("J1", 6 * HOUR), second)
    odds = odds_for(problem, plan, spreads=sure(problem, heat=TWICE), replays=2)
    # The first is hot until 06:30 + 240 + 60 min = 11:30, then stripped. The second is rigged from 11:00, so
    # it is hot only from 11:30: 30 min to rig, 240 hot, 60 under pressure, 30 to strip.
    assert [one.p50 for one in odds] == [12 * HOUR, 17 * HOUR]


def test_the_same_seed_gives_the_same_odds_and_another_does_not() -> None:
    problem = two_days(bays.job("J1", PREP, *bays.BLOCK, needed_by=12 * HOUR + 15))
    plan = schedule(planned("J1", 8 * HOUR, buffed_from=6 * HOUR))
    first = odds_for(problem, plan, replays=200, seed=1)
    assert first == odds_for(problem, plan, replays=200, seed=1)
    assert first != odds_for(problem, plan, replays=200, seed=2)
    assert 0.0 < first[0].in_time < 1.0


def test_a_pausable_stage_goes_on_after_the_break() -> None:
    pause = Span(7 * HOUR, 7 * HOUR + 30)
    stage = bays.hands_on("buff", 120, place="prep", pausable=True)
    problem = bays.bay(bays.job("J1", stage), technicians=(bays.technician("Ada", pause),))
    done = PlannedStage(name="buff", start=6 * HOUR, end=8 * HOUR + 30, technicians=("Ada",), position="P1")
    plan = schedule(PlannedJob(id="J1", stages=(done,)))
    (odds,) = odds_for(problem, plan, spreads=sure(problem), replays=1)
    assert odds.p50 == 8 * HOUR + 30  # 06:00 to 07:00, the break, 07:30 to 08:30


@pytest.mark.parametrize(("median", "p90"), [(0.0, 1.0), (1.2, 1.0)])
def test_a_spread_that_makes_no_sense_is_refused(median: float, p90: float) -> None:
    with pytest.raises(ValueError, match="median above 0"):
        Spread(median=median, p90=p90)


def test_the_factor_meets_both_percentiles_it_was_given() -> None:
    spread = Spread(median=1.1, p90=1.6)
    # 0 and 1.2816 are the 50th and the 90th percentile of the standard normal distribution.
    assert spread.factor(0.0) == pytest.approx(1.1)
    assert spread.factor(1.2815515655) == pytest.approx(1.6)


def test_work_in_hand_goes_on_from_where_it_began() -> None:
    held = PlannedStage(name="buff", start=-30, end=45, technicians=("Ada",), position="P1")
    in_hand = PlannedJob(id="J1", stages=(held,))
    problem = bays.bay(bays.job("J1", PREP), locked=(in_hand,))
    (odds,) = odds_for(problem, schedule(in_hand), spreads=sure(problem, buff=TWICE), replays=1)
    assert odds.p50 == 120  # the lock says 75 min; twice that from 30 min before the horizon


def test_another_technician_with_the_skill_steps_in_where_its_own_is_held_up() -> None:
    # Ada's buff takes four times its 120 min, so she is late for J2; Bob has the skill and does it on time.
    problem = bays.bay(
        bays.job("J1", bays.hands_on("buff", 120), needed_by=bays.DAY),
        bays.job("J2", bays.hands_on("buff", 60), needed_by=10 * HOUR),
        technicians=(bays.technician("Ada"), bays.technician("Bob")),
    )
    buffs = ((bays.MORNING, 120), (bays.MORNING + 2 * HOUR, 60))
    jobs = tuple(
        PlannedJob(
            id=f"J{number}",
            stages=(PlannedStage(name="buff", start=at, end=at + length, technicians=("Ada",)),),
        )
        for number, (at, length) in enumerate(buffs, start=1)
    )
    spreads = {("J1", "buff"): Spread(median=4.0, p90=4.0), ("J2", "buff"): Spread()}
    first, second = odds_for(problem, Schedule(jobs=jobs, watch=()), spreads=spreads, replays=5)
    # 06:00 + 480 min, and as planned 08:00 to 09:00
    assert (first.p50, second.p50, second.in_time) == (bays.MORNING + 480, bays.MORNING + 180, 1.0)


def test_work_once_begun_is_finished_past_the_end_of_the_shift() -> None:
    # 16:00 to 17:00 as planned, then two hours from 17:00 where one was planned: the crew stays until 19:00.
    problem = two_days(bays.job("J1", bays.hands_on("buff", 60), bays.hands_on("fill", 60)))
    buff, fill = (
        PlannedStage(name=name, start=at * HOUR, end=(at + 1) * HOUR, technicians=("Ada",))
        for name, at in (("buff", 16), ("fill", 17))
    )
    plan = schedule(PlannedJob(id="J1", stages=(buff, fill)))
    (odds,) = odds_for(problem, plan, spreads=sure(problem, fill=TWICE), replays=2)
    assert (odds.p50, odds.held) == (19 * HOUR, 0.0)


def test_the_stage_that_lost_its_shift_is_named_with_how_often() -> None:
    # Buffing ends at 18:00, the end of the shift, so the fill of 17:00 begins at 06:00 the next day.
    problem = two_days(bays.job("J1", bays.hands_on("buff", 60), bays.hands_on("fill", 60)))
    buff, fill = (
        PlannedStage(name=name, start=at * HOUR, end=(at + 1) * HOUR, technicians=("Ada",))
        for name, at in (("buff", 16), ("fill", 17))
    )
    plan = schedule(PlannedJob(id="J1", stages=(buff, fill)))
    (odds,) = odds_for(problem, plan, spreads=sure(problem, buff=TWICE), replays=2)
    assert (odds.p50, odds.held, odds.held_at) == (bays.DAY + 7 * HOUR, 1.0, "fill")


def test_who_kept_to_the_plan_is_not_pushed_out_by_who_lost_a_shift() -> None:
    # J1's fill slips from 17:00 to the next morning. There J2, planned at 06:00, keeps its time: J1 at 08:00.
    problem = two_days(
        bays.job("J1", bays.hands_on("buff", 60), bays.hands_on("fill", 60)),
        bays.job("J2", bays.hands_on("skive", 120), needed_by=2 * bays.DAY),
    )
    stages = tuple(
        PlannedStage(name=name, start=at * HOUR, end=(at + length) * HOUR, technicians=("Ada",))
        for name, at, length in (("buff", 16, 1), ("fill", 17, 1), ("skive", 30, 2))
    )
    plan = schedule(PlannedJob(id="J1", stages=stages[:2]), PlannedJob(id="J2", stages=stages[2:]))
    first, second = odds_for(problem, plan, spreads=sure(problem, buff=TWICE), replays=2)
    assert (first.p50, second.p50) == (33 * HOUR, 32 * HOUR)


def test_a_tyre_that_is_done_sooner_goes_on_sooner_and_no_tyre_waits_on_anothers_place() -> None:
    # Half of the buff's hour: J1 begins its fill at 06:30, leaves P1 at 07:30, and J2 still comes at 08:00.
    half = Spread(median=0.5, p90=0.5)
    problem = two_days(
        bays.job("J1", PREP, bays.hands_on("fill", 60, place="prep")),
        bays.job("J2", bays.hands_on("skive", 60, place="prep"), needed_by=bays.DAY),
    )
    stages = tuple(
        PlannedStage(name=name, start=at * HOUR, end=(at + 1) * HOUR, technicians=("Ada",), position="P1")
        for name, at in (("buff", 6), ("fill", 7), ("skive", 8))
    )
    plan = schedule(PlannedJob(id="J1", stages=stages[:2]), PlannedJob(id="J2", stages=stages[2:]))
    first, second = odds_for(problem, plan, spreads=sure(problem, buff=half), replays=2)
    assert (first.p50, second.p50) == (7 * HOUR + 30, 9 * HOUR)
    # Three hours in place of one: J2 can take P1 only at 10:00.
    late = Spread(median=3.0, p90=3.0)
    first, second = odds_for(problem, plan, spreads=sure(problem, buff=late), replays=2)
    assert (first.p50, second.p50) == (10 * HOUR, 11 * HOUR)


def test_a_rest_goes_on_past_the_end_of_the_horizon() -> None:
    rest = Stage(name="rest", kind=StageKind.WAIT, minutes=12 * HOUR)
    problem = bays.bay(bays.job("J1", bays.hands_on("buff", 60), rest, needed_by=2 * bays.DAY))
    buff = PlannedStage(name="buff", start=11 * HOUR, end=12 * HOUR, technicians=("Ada",))
    rested = PlannedStage(name="rest", start=12 * HOUR, end=24 * HOUR)
    plan = schedule(PlannedJob(id="J1", stages=(buff, rested)))
    (odds,) = odds_for(problem, plan, spreads=sure(problem, buff=TWICE), replays=2)
    # Two hours from 11:00 and twelve of rest, an hour past midnight, where the horizon ends.
    assert (odds.in_time, odds.p50) == (1.0, 25 * HOUR)
