"""From rows to a bay problem."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from planner.domain.bay_time import Span
from planner.domain.errors import InvalidValueError
from planner.domain.injury import Zone
from planner.domain.work import StageKind
from planner.models import HeaterSetPart, Technician
from planner.scheduling.dispatch import dispatch
from planner.scheduling.problem_format import problem_read, problem_write
from planner.scheduling.verify import schedule_verify
from planner.selectors.day_problem import DayProblem, day_problem_get
from planner.services.heater_parts import part_move
from planner.services.stage_runs import stage_run_finish, stage_run_start
from planner.services.work_orders import work_order_hold
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db


def day(mine: Mine, *, now: datetime | None = None, start: datetime | None = None) -> DayProblem:
    start = start or at(6)
    return day_problem_get(
        user=mine.supervisor, site=mine.site, start=start, end=at(18, days=2), now=now or start
    )


def test_a_job_has_its_minutes_sets_and_positions() -> None:
    mine = mine_equipped()
    mine.order("A1")
    (job,) = day(mine).problem.jobs
    # The cure: 60 min + 2 min for each of 20 mm.
    assert [stage.minutes for stage in job.stages] == [60, 30, 30, 100, 30, 30]
    assert (job.id, job.heater_sets, dict(job.positions)) == (
        "WO-0001",
        ("H1",),
        {"prep": ("P1",), "cure": ("C1",)},
    )
    assert job.needed_by == 3 * 24 * 60


def test_shifts_and_breaks_come_in_bay_time() -> None:
    mine = mine_equipped()
    first = day(mine).problem.technicians[0].shifts[0]
    assert (first.span, first.breaks) == (Span(0, 720), (Span(360, 390),))


def test_the_problem_survives_its_file() -> None:
    mine = mine_equipped()
    mine.order("A1")
    problem = day(mine).problem
    assert problem_read(problem_write(problem)).problem == problem


def test_a_set_with_a_part_out_is_out_and_the_reason_says_so() -> None:
    mine = mine_equipped()
    mine.order("A1")
    part = HeaterSetPart.objects.get(kind="outside_bag")
    part_move(user=mine.supervisor, part=part, move="take_out", why="leaks")
    made = day(mine)
    assert made.problem.jobs == ()
    assert "H1: its outside bag is out" in made.not_entered[0].reason


def test_a_set_is_closed_after_its_inspection_day() -> None:
    mine = mine_equipped()
    HeaterSetPart.objects.filter(kind="frame").update(inspection_due_on=at(6).date())
    # From midnight, 18 h after 06:00, to the horizon's end.
    assert day(mine).problem.heater_sets[0].closed == (Span(18 * 60, 60 * 60),)


@pytest.mark.parametrize(
    ("size", "zone", "reason"),
    [
        ("40.00R57", Zone.SIDEWALL, "no heater set of the site fits the sidewall of 40.00R57"),
        ("20.5R25", Zone.CROWN, "no route for a crown repair of 20.5R25"),
    ],
)
def test_what_does_not_fit_is_named(size: str, zone: Zone, reason: str) -> None:
    mine = mine_equipped()
    mine.order("A1", size=size, zone=zone)
    assert reason in day(mine).not_entered[0].reason


def test_an_injury_over_the_limit_does_not_enter() -> None:
    mine = mine_equipped()
    mine.order("A1")
    mine.add("damagelimit", zone="sidewall", largest_depth_mm=19, source="the site's table")
    assert "its depth of 20 mm is over the limit of 19 mm" in day(mine).not_entered[0].reason


def test_a_cure_past_its_chart_warns() -> None:
    mine = mine_equipped()
    order = mine.order("A1")
    order.damages.update(depth_mm=41)
    assert "past the chart" in day(mine).warnings[0]


def test_injuries_of_one_tyre_follow_one_another() -> None:
    mine = mine_equipped()
    order = mine.order("A1")
    mine.damage(order.tyre)
    order.tyre.damages.update(work_order=order)
    jobs = day(mine).problem.jobs
    assert [(job.id, job.after) for job in jobs] == [("WO-0001", ()), ("WO-0001.2", ("WO-0001",))]


def test_held_work_stays_out() -> None:
    mine = mine_equipped()
    work_order_hold(user=mine.supervisor, work_order=mine.order("A1"), why="machine away")
    assert day(mine).problem.jobs == ()


@pytest.mark.parametrize(
    ("start", "end", "fault"),
    [
        (at(6), at(6), "end after it starts"),
        (at(6), at(6, days=61), "at most 60 days"),
        (at(6).replace(second=1), at(7), "whole minutes"),
        (at(6).replace(tzinfo=None), at(7), "offset"),
    ],
)
def test_a_bad_horizon_is_refused(start: datetime, end: datetime, fault: str) -> None:
    mine = mine_equipped()
    with pytest.raises(InvalidValueError, match=fault):
        day_problem_get(user=mine.supervisor, site=mine.site, start=start, end=end)


def begin(mine: Mine, order: Any, name: str, started_at: datetime, **where: Any) -> Any:
    people = [Technician.objects.get(site=mine.site, code="T1")] if where.pop("crew", True) else []
    damage = order.damages.get()
    return stage_run_start(
        user=mine.supervisor,
        damage=damage,
        stage_name=name,
        technicians=people,
        started_at=started_at,
        **where,
    )


def cure_going_on(mine: Mine) -> None:
    """The tyre's cure begun at 09:00, all before it done."""
    order = mine.order("A1")
    prep, cure = {"position": mine.position("P1")}, {"position": mine.position("C1")}
    cure["heater_set"] = mine.heater_set("H9")  # type: ignore[assignment]
    for name, hour, minute, where in (("Skive", 6, 0, prep), ("Fill", 7, 0, prep), ("Rig", 8, 30, cure)):
        run = begin(mine, order, name, at(hour, minute), **where)
        stage_run_finish(user=mine.supervisor, run=run, ended_at=at(hour, minute) + timedelta(minutes=30))
    order.refresh_from_db()
    begin(mine, order, "Cure", at(9), crew=False, **cure)


def test_a_cure_that_goes_on_stands_fixed_on_its_set_and_position() -> None:
    mine = mine_equipped()
    cure_going_on(mine)
    problem = day(mine, now=at(9, 20), start=at(9, 30)).problem
    (job,), (locked,) = problem.jobs, problem.locked
    assert [stage.name for stage in job.stages] == ["Rig", "Cure", "Cool", "Strip"]
    assert job.stages[0].kind is StageKind.WAIT
    # Begun 30 min before the horizon; 100 min long.
    cure = locked.stages[1]
    assert (cure.start, cure.end, cure.heater_set, cure.position) == (-30, 70, "H9", "C1")
    assert job.heater_sets == ("H9",)


def test_work_in_hand_can_be_planned_to_its_end() -> None:
    mine = mine_equipped()
    cure_going_on(mine)
    mine.order("A2")
    problem = day(mine, now=at(9, 20), start=at(9, 30)).problem
    schedule = dispatch(problem)
    assert {job.id for job in schedule.jobs} == {"WO-0001", "WO-0002"}
    assert schedule_verify(problem, schedule) == ()


def test_a_cure_that_runs_late_is_taken_to_end_now() -> None:
    mine = mine_equipped()
    cure_going_on(mine)
    (locked,) = day(mine, now=at(11, 58), start=at(12)).problem.locked
    assert locked.stages[1].end == 0


def test_the_number_of_queries_does_not_grow_with_the_work() -> None:
    mine = mine_equipped()
    counts = []
    for serials in (["A1"], ["A2", "A3"]):
        for serial in serials:
            mine.order(serial)
        with CaptureQueriesContext(
            connection,
        ) as queries:
            day(mine)
        counts.append(len(queries))
    assert counts[0] == counts[1]
