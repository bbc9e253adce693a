"""Each rule of the bay, one small bay at a time: where dispatch puts a job because of it.

The plain block is rig 30, heat 120, cool 60, strip 30: four hours. The only shift is 06:00 to 18:00.
"""

from dataclasses import replace
from typing import Any

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, PlannedStage, Schedule
from planner.domain.problem import BayProblem
from planner.domain.resources import Shift
from planner.domain.work import Stage, StageKind
from planner.scheduling.dispatch import LockedWorkError, dispatch
from tests.lib.bays import BLOCK, DAY, HOUR, bay, hands_on, heater_set, job, position, technician


def planned(problem: BayProblem) -> dict[str, PlannedJob]:
    return {one.id: one for one in dispatch(problem).jobs}


def starts(problem: BayProblem) -> dict[str, int]:
    return {name: one.stages[0].start for name, one in planned(problem).items()}


def two(**more: Any) -> tuple[Any, Any]:
    """Two plain jobs that share nothing but hands, watch and supply."""
    own = {"heater_sets": ("H2",), "positions": {"cure": ("C2",)}}
    return job("J1", **more), job("J2", **{**own, **more})


ROOM: dict[str, Any] = {
    "positions": (position("C1", "cure"), position("C2", "cure")),
    "heater_sets": (heater_set("H1"), heater_set("H2")),
}


def test_a_job_starts_with_the_shift() -> None:
    assert starts(bay()) == {"J1": 6 * HOUR}


def test_nothing_starts_before_its_release() -> None:
    assert starts(bay(job(released_at=7 * HOUR + 5))) == {"J1": 7 * HOUR + 15}


def test_a_block_that_no_shift_can_attend_is_left_out() -> None:
    short = technician("Ada", end=9 * HOUR + 45)
    assert planned(bay(technicians=(short,))) == {}


def test_a_stage_off_the_grid_takes_whole_slots() -> None:
    one = planned(bay(job("J1", hands_on("buff", 20))))["J1"]
    assert one.stages[0].span == Span(6 * HOUR, 6 * HOUR + 30)


def test_unpaused_work_waits_for_the_end_of_a_break() -> None:
    person = technician("Ada", Span(7 * HOUR, 7 * HOUR + 30))
    problem = bay(job("J1", hands_on("buff", 75)), technicians=(person,))
    assert starts(problem) == {"J1": 7 * HOUR + 30}


def test_pausable_work_lasts_its_break_longer() -> None:
    person = technician("Ada", Span(7 * HOUR, 7 * HOUR + 30))
    problem = bay(job("J1", hands_on("buff", 75, pausable=True)), technicians=(person,))
    assert planned(problem)["J1"].stages[0].span == Span(6 * HOUR, 7 * HOUR + 45)


def test_a_crew_of_two_pauses_in_the_breaks_of_both() -> None:
    crew = (
        technician("Ada", Span(7 * HOUR, 7 * HOUR + 30)),
        technician("Bea", Span(8 * HOUR, 8 * HOUR + 15)),
    )
    stage = hands_on("buff", 120, crew=2, pausable=True)
    done = planned(bay(job("J1", stage), technicians=crew))["J1"].stages[0]
    assert (done.span, done.technicians) == (Span(6 * HOUR, 8 * HOUR + 45), ("Ada", "Bea"))


def test_a_crew_larger_than_the_skilled_is_not_planned() -> None:
    assert planned(bay(job("J1", hands_on("buff", 30, crew=2)))) == {}


@pytest.mark.parametrize(("hours", "expected"), [(2, 6 * HOUR), (9, 6 * HOUR)])
def test_a_wait_of_no_limit_may_be_any_length(hours: int, expected: int) -> None:
    stages = (hands_on("buff", 30, min_wait_after=hours * HOUR), hands_on("fill", 30))
    assert starts(bay(job("J1", *stages))) == {"J1": expected}


def test_a_greatest_wait_moves_the_stage_before_it() -> None:
    late = technician("Bea", start=12 * HOUR)
    late = replace(late, skills=frozenset({"fill"}))
    stages = (hands_on("buff", 30, max_wait_after=65), hands_on("fill", 30, skill="fill"))
    problem = bay(job("J1", *stages), technicians=(technician("Ada"), late))
    # At most 60 min on the grid before noon: buff ends at 11:00 or later; early within that.
    assert starts(problem) == {"J1": 10 * HOUR + 30}


def test_a_stay_holds_its_position_through_its_waits() -> None:
    stages = (hands_on("buff", 30, place="prep", min_wait_after=60), hands_on("fill", 30, place="prep"))
    crew = (technician("Ada"), technician("Bea"))
    assert sorted(starts(bay(job("J1", *stages), job("J2", *stages), technicians=crew)).values()) == [
        6 * HOUR,
        8 * HOUR,
    ]


def test_a_wait_stage_needs_nobody() -> None:
    rest = Stage(name="rest", kind=StageKind.WAIT, minutes=10 * HOUR)
    one = planned(bay(job("J1", hands_on("buff", 30), rest)))["J1"]
    assert one.end == 16 * HOUR + 30
    assert planned(bay(job("J1", hands_on("buff", 30), replace(rest, minutes=18 * HOUR)))) == {}


def test_a_set_rests_for_its_turnaround() -> None:
    problem = bay(
        *two(heater_sets=("H1",)), **{**ROOM, "heater_sets": (heater_set("H1", turnaround_minutes=20),)}
    )
    assert sorted(starts(problem).values()) == [6 * HOUR, 10 * HOUR + 30]


def test_a_turnaround_may_meet_a_closure_but_a_block_may_not() -> None:
    shut = heater_set("H1", turnaround_minutes=20, closed=(Span(10 * HOUR, 11 * HOUR),))
    assert starts(bay(heater_sets=(shut,))) == {"J1": 6 * HOUR}
    shut = replace(shut, closed=(Span(10 * HOUR - 1, 11 * HOUR),))
    assert starts(bay(heater_sets=(shut,))) == {"J1": 11 * HOUR}


def test_a_closed_position_holds_nothing() -> None:
    shut = position("C1", "cure", closed=(Span(6 * HOUR, 7 * HOUR + 1),))
    assert starts(bay(positions=(shut,))) == {"J1": 7 * HOUR + 15}


def test_no_power_no_heat() -> None:
    off = (Span(6 * HOUR + 45, 7 * HOUR + 20),)
    # Heat starts 30 min after the rig: at 07:30 at the earliest.
    assert starts(bay(power_off=off)) == {"J1": 7 * HOUR}


@pytest.mark.parametrize(
    "limit", [{"power_limit_kw": 15.9}, {"channel_limit": 3}, {"cures_per_attendant": 1}]
)
def test_two_cures_at_once_need_supply_and_watch_for_both(limit: dict[str, Any]) -> None:
    crew = (technician("Ada"), replace(technician("Bea"), skills=frozenset({"prep"})))
    enough = {"cures_per_attendant": 2}
    together = starts(bay(*two(), rules=enough, technicians=crew, **ROOM))
    assert together == {"J1": 6 * HOUR, "J2": 6 * HOUR}
    apart = starts(bay(*two(), rules={**enough, **limit}, technicians=crew, **ROOM))
    assert max(apart.values()) > 6 * HOUR


@pytest.mark.parametrize("may_work", [True, False])
def test_an_attendant_works_beside_a_watch_only_where_that_is_allowed(may_work: bool) -> None:
    extra = job("J2", hands_on("buff", 30))
    schedule = dispatch(bay(job(priority=100), extra, rules={"attendant_may_work": may_work}))
    buff = next(one for one in schedule.jobs if one.id == "J2").stages[0]
    assert any(buff.span.meets(watch.span) for watch in schedule.watch) == may_work


def test_a_watch_through_breaks_is_a_rule() -> None:
    person = technician("Ada", Span(8 * HOUR, 8 * HOUR + 30))
    assert starts(bay(technicians=(person,), rules={"watch_through_breaks": True})) == {"J1": 6 * HOUR}
    # After the break, or with rig and heat such that the strip follows it: rig at 08:30.
    assert starts(bay(technicians=(person,), rules={"watch_through_breaks": False})) == {"J1": 8 * HOUR + 30}


def test_a_cool_down_needs_an_attendant_only_where_it_is_watched() -> None:
    # The attendant leaves at 09:00: heat is over at 08:30, the cool-down at 09:30.
    attendant = replace(technician("Ada", end=9 * HOUR), skills=frozenset({"cure"}))
    hands = replace(technician("Bea"), skills=frozenset({"prep"}))
    crew = (attendant, hands)
    assert starts(bay(technicians=crew, rules={"watch_cool_down": False})) == {"J1": 6 * HOUR}
    assert starts(bay(technicians=crew, rules={"watch_cool_down": True})) == {}


def test_a_watch_is_handed_over_only_where_that_is_allowed() -> None:
    crew = (technician("Ada", end=8 * HOUR), technician("Bea", start=8 * HOUR, end=11 * HOUR))
    schedule = dispatch(bay(technicians=crew, rules={"handover_allowed": True}))
    assert [(watch.technician, watch.span) for watch in schedule.watch] == [
        ("Ada", Span(6 * HOUR + 30, 8 * HOUR)),
        ("Bea", Span(8 * HOUR, 9 * HOUR + 30)),
    ]
    assert planned(bay(technicians=crew, rules={"handover_allowed": False})) == {}


def test_a_job_waits_for_those_before_it_and_falls_with_them() -> None:
    before, after = job("J1", hands_on("buff", 45)), job("J2", hands_on("fill", 30), after=("J1",))
    assert starts(bay(before, after)) == {"J1": 6 * HOUR, "J2": 6 * HOUR + 45}
    impossible = replace(before, stages=(hands_on("buff", 45, skill="weld"),))
    assert starts(bay(impossible, after)) == {}


class TestLockedWork:
    """Work in hand stays where it is, and the rest of its job goes on after it."""

    rig = PlannedStage(
        name="rig", start=-30, end=7, technicians=("Ada",), position="C1", heater_set="H1"
    )  # fmt: skip

    def test_locked_work_stands_exactly_as_given(self) -> None:
        stages = (hands_on("buff", 30, place="prep"), hands_on("fill", 30, place="prep"))
        lock = PlannedStage(name="buff", start=-20, end=7, technicians=("Ada",), position="P1")
        problem = bay(job("J1", *stages), locked=(PlannedJob(id="J1", stages=(lock,)),))
        one = planned(problem)["J1"]
        assert one.stages[0] == lock
        assert (one.stages[1].start, one.stages[1].position) == (6 * HOUR, "P1")

    def test_a_block_that_cannot_follow_its_locked_rig_is_the_users_error(self) -> None:
        problem = bay(locked=(PlannedJob(id="J1", stages=(self.rig,)),))
        with pytest.raises(LockedWorkError, match="J1 cannot be finished"):
            dispatch(problem)

    def test_locked_cures_beyond_the_supply_are_the_users_error(self) -> None:
        heat = PlannedStage(name="heat", start=7 * HOUR, end=9 * HOUR, position="C1", heater_set="H1")
        other = replace(heat, position="C2", heater_set="H2")
        locks = (PlannedJob(id="J1", stages=(heat,)), PlannedJob(id="J2", stages=(other,)))
        problem = bay(*two(), locked=locks, rules={"power_limit_kw": 10.0, "cures_per_attendant": 2}, **ROOM)
        with pytest.raises(LockedWorkError, match="more power"):
            dispatch(problem)


def test_a_night_shift_attends_across_midnight() -> None:
    night = replace(technician("Ada"), shifts=(Shift(span=Span(20 * HOUR, 30 * HOUR)),))
    problem = bay(job(released_at=22 * HOUR), technicians=(night,), horizon_end=2 * DAY)
    assert planned(problem)["J1"].end == 26 * HOUR


def test_a_job_that_changes_place_within_its_block_is_planned_whole() -> None:
    rig, heat, cool, strip = BLOCK
    moved = (rig, heat, cool, replace(strip, place="prep"))
    one = planned(bay(job("J1", *moved)))["J1"]
    assert [stage.position for stage in one.stages] == ["C1", "C1", "C1", "P1"]
    assert {stage.heater_set for stage in one.stages} == {"H1"}


def test_the_same_seed_gives_the_same_plan() -> None:
    problem = bay(*(job(f"J{number}") for number in range(4)), horizon_end=DAY)
    plans: set[Schedule] = {dispatch(problem, seed=3) for _ in range(3)}
    assert len(plans) == 1
