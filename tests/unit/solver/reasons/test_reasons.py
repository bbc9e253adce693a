"""Reasons: each cause is named with its figures, and only where it is true."""

from dataclasses import replace
from typing import Any

import pytest

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, Schedule
from planner.domain.problem import BayProblem
from planner.scheduling.dispatch import dispatch
from planner.scheduling.verify import schedule_verify
from planner.solver.levers.changes import longer_shifts
from planner.solver.reasons import late_reasons_for, reasons_for
from tests.bench.bay_families import family_bay
from tests.lib.bays import DAY, HOUR, bay, block_schedule, hands_on, heater_set, job, technician

NOTHING = Schedule(jobs=(), watch=())


def _codes(problem: BayProblem) -> dict[str, set[str]]:
    return {
        one.job: {reason.code for reason in one.reasons} for one in reasons_for(problem, dispatch(problem))
    }


@pytest.mark.parametrize(
    ("problem", "code"),
    [
        (bay(job(heater_sets=())), "no_heater_set"),
        (bay(job(positions={"cure": ()})), "no_position"),
        (bay(job("J1", hands_on("weld", 30, skill="weld"))), "no_skill"),
        (bay(job("J1", hands_on("lift", 30, crew=2))), "crew_too_small"),
        (bay(job("J1", hands_on("buff", 13 * HOUR))), "shift_too_short"),
        (bay(rules={"power_limit_kw": 7.0}), "power"),
        (bay(rules={"channel_limit": 1}), "channels"),
        (bay(job(released_at=20 * HOUR)), "horizon_too_short"),
        (bay(heater_sets=(heater_set("H1", closed=(Span(0, DAY),)),)), "set_closed"),
        (bay(power_off=(Span(0, DAY),)), "power_off"),
    ],
)
def test_what_keeps_a_job_out_of_an_empty_bay_is_named(problem: BayProblem, code: str) -> None:
    assert code in _codes(problem)["J1"]


def test_a_short_attended_time_is_said_in_figures() -> None:
    # heat 120 min and cool 60 min are 180 min under watch; Ada is there for 2 h
    problem = bay(technicians=(technician("Ada", start=8 * HOUR, end=10 * HOUR), technician_without_watch()))
    (left,) = reasons_for(problem, NOTHING)
    reason = next(reason for reason in left.reasons if reason.code == "attended_window_too_short")
    assert reason.figures == {"needed_min": 180, "longest_min": 120, "missing_min": 60}
    assert "needs 3 h attended" in reason.message
    assert "is 2 h" in reason.message


def technician_without_watch() -> Any:
    """Somebody who does all hands-on work of a day but may not attend."""
    whole = technician("Bob")
    return type(whole)(id="Bob", skills=frozenset({"prep"}), shifts=whole.shifts)


def test_a_job_behind_another_names_who_holds_what() -> None:
    # two blocks fit the day (510 of 720 min), the third finds the set taken
    problem = bay(*(job(f"J{n}", needed_by=DAY) for n in range(1, 4)))
    (left,) = reasons_for(problem, dispatch(problem))
    assert left.reasons[0].code == "out_prioritised"
    # Either of the two blocks before it leaves its four hours free.
    assert left.reasons[0].figures["in_place_of"] in {"J1", "J2"}


def test_a_figure_that_would_lift_it_is_true_and_the_least() -> None:
    # Three blocks of 240 min and two turnarounds of 30 take 780 min; the shift from 06:00 has 720.
    problem = bay(*(job(f"J{n}", needed_by=DAY) for n in range(1, 4)))
    planned = dispatch(problem)
    (left,) = reasons_for(problem, planned)
    longer = next(reason.figures for reason in left.reasons if reason.code == "shift_too_short")
    assert longer.items() >= {"longer_min": 60, "ready_min": 19 * HOUR}.items()
    more, less = (dispatch(longer_shifts(problem, minutes)) for minutes in (60, 55))
    assert (len(more.jobs), len(less.jobs)) == (3, 2)
    assert max(one.end for one in more.jobs) == 19 * HOUR


@pytest.mark.parametrize("seed", range(3))
def test_every_stated_figure_comes_true_when_it_is_tried(seed: int) -> None:
    problem = family_bay("busy-day", seed)
    planned = dispatch(problem)
    tried = 0
    for left in reasons_for(problem, planned):
        for reason in left.reasons:
            if "in_place_of" in reason.figures:
                fewer = tuple(one for one in planned.jobs if one.id != reason.figures["in_place_of"])
                assert _ready(problem, fewer, left.job) == reason.figures["ready_min"]
                tried += 1
            if "longer_min" in reason.figures:
                longer = longer_shifts(problem, int(str(reason.figures["longer_min"])))
                assert _ready(longer, planned.jobs, left.job) == reason.figures["ready_min"]
                tried += 1
    assert tried


def _ready(problem: BayProblem, others: tuple[PlannedJob, ...], job_id: str) -> int:
    """When a job is ready that is planned around others that stand locked; the checker has seen the plan."""
    left = {one.id for one in others} | {job_id}
    around = replace(
        problem,
        jobs=tuple(replace(one, after=()) for one in problem.jobs if one.id in left),
        locked=others,
    )
    plan = dispatch(around)
    assert schedule_verify(around, plan) == ()
    return next(one.end for one in plan.jobs if one.id == job_id)


def test_a_job_after_one_that_is_left_out_says_so() -> None:
    problem = bay(job("J1", heater_sets=()), job("J2", after=("J1",)))
    assert _codes(problem)["J2"] == {"predecessor_out"}


def test_a_job_that_fits_but_was_not_placed_is_not_blamed_on_others() -> None:
    problem = bay()
    (left,) = reasons_for(problem, NOTHING)
    assert [reason.code for reason in left.reasons] == ["search_ended"]
    # rig at 06:00, 240 min of block: ready at 10:00
    assert left.reasons[0].figures.items() >= {"ready_min": 600}.items()


def test_a_late_job_alone_in_the_bay_was_needed_too_soon() -> None:
    problem = bay(job(needed_by=9 * HOUR))
    reasons = late_reasons_for(problem, block_schedule())
    assert [reason.code for reason in reasons["J1"]] == ["needed_too_soon"]
    assert reasons["J1"][0].figures.items() >= {"ready_min": 600, "needed_min": 540}.items()
