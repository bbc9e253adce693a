"""Why a job moved: one small bay for each cause, where only one thing can be it."""

from dataclasses import replace

from planner.domain.bay_time import Span
from planner.domain.plan import PlannedJob, Reason, Schedule
from planner.domain.problem import BayProblem
from planner.solver.limits import SolveLimits
from planner.solver.replan import (
    job_arrived,
    moved_jobs,
    replan,
    set_failed,
    stage_runs_over,
    technician_away,
    work_in_hand,
)
from tests.lib.bays import (
    DAY,
    HOUR,
    MORNING,
    bay,
    block_plan,
    block_schedule,
    hands_on,
    heater_set,
    job,
    technician,
)

LIMITS = SolveLimits(work=0.2)
ONE_SET = bay(job("J1", needed_by=DAY), job("J2", needed_by=DAY))
PUBLISHED = block_schedule(block_plan("J1"), block_plan("J2", start=MORNING + 5 * HOUR))


def _why(before: BayProblem, published: Schedule, now: BayProblem) -> dict[str, Reason]:
    new = replan(now, published, stability=20, limits=LIMITS)
    return {one.job: one.reason for one in moved_jobs(before, published, now, new)}


def test_its_set_is_out() -> None:
    both = bay(
        *(job(name, heater_sets=("H1", "H2"), needed_by=DAY) for name in ("J1", "J2")),
        heater_sets=(heater_set("H1"), heater_set("H2")),
    )
    now = set_failed(work_in_hand(both, PUBLISHED, 7 * HOUR), "H1", Span(12 * HOUR, DAY))
    why = _why(both, PUBLISHED, now)
    assert {name: (reason.code, reason.figures["heater_set"]) for name, reason in why.items()} == {
        "J2": ("set_out", "H1")
    }
    assert why["J2"].message.startswith("H1 is out Mon 2 Mar 12:00 to ")


def test_its_technician_is_away() -> None:
    two = bay(
        job("J1", hands_on("buff", 60), needed_by=DAY),
        technicians=(technician("Ada"), technician("Bob")),
    )
    buff = replace(block_plan("J1").stages[0], name="buff", start=MORNING, end=MORNING + 60)
    published = Schedule(
        jobs=(PlannedJob(id="J1", stages=(replace(buff, position=None, heater_set=None),)),), watch=()
    )
    now = technician_away(two, "Ada", Span(0, 9 * HOUR))
    why = _why(two, published, now)
    assert (why["J1"].code, why["J1"].figures["technician"]) == ("technician_away", "Ada")


def test_a_cure_before_it_runs_over() -> None:
    # J1's block ends 40 min later, at 10:40; H1 is free again at 11:10, 10 min too late for J2.
    in_hand = work_in_hand(ONE_SET, PUBLISHED, 7 * HOUR)
    why = _why(ONE_SET, PUBLISHED, stage_runs_over(in_hand, "J1", "heat", 40))
    assert {name: reason.code for name, reason in why.items()} == {"J1": "runs_over", "J2": "runs_over"}
    assert why["J1"].message == "Heat ends 40 min later than planned."
    assert why["J2"].message == "Heat of J1 ends 40 min later than planned."


def test_it_makes_room_for_an_urgent_tyre() -> None:
    urgent = job("J9", priority=50, needed_by=MORNING + 9 * HOUR)
    now = job_arrived(work_in_hand(ONE_SET, PUBLISHED, 7 * HOUR), urgent)
    why = _why(ONE_SET, PUBLISHED, now)
    assert {name: reason.code for name, reason in why.items()} == {"J2": "made_room", "J9": "arrived"}
    assert why["J2"].figures["for"] == "J9"


def test_it_has_not_begun_when_it_was_to() -> None:
    now = replace(ONE_SET, jobs=tuple(replace(one, released_at=7 * HOUR) for one in ONE_SET.jobs))
    why = _why(ONE_SET, PUBLISHED, now)
    assert why["J1"].code == "not_begun"
    assert why["J1"].figures.items() >= {"planned_min": MORNING, "open_min": 7 * HOUR}.items()


def test_an_older_problem_is_read_on_its_own_clock() -> None:
    # The published problem began six hours before the present one: its times are 360 min more.
    later = replace(ONE_SET, origin=ONE_SET.origin.replace(hour=6))
    assert later.origin != ONE_SET.origin
    early = replace(
        later,
        technicians=(technician("Ada", start=0, end=12 * HOUR),),
        jobs=tuple(replace(one, needed_by=18 * HOUR) for one in later.jobs),
    )
    published = block_schedule(block_plan("J1", start=0), block_plan("J2", start=5 * HOUR))
    assert _why(ONE_SET, published, early) == {}
