"""Stage minutes of the cure from chart and model: in the problem, and against the plan that holds."""

from datetime import datetime
from unittest.mock import patch

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from planner.models import CureFigure, Damage, Plan, WorkOrder, ZoneCure
from planner.selectors import cure_figures
from planner.selectors.accounts.bay import costed_bay_get
from planner.selectors.day_problem import DayProblem, day_problem_get
from planner.selectors.order_cures import order_cure_list, plan_hold_list
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plans import plan_publish
from planner.services.tyres import damage_measure
from tests.lib.cure_stock import charted
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db


def day(mine: Mine) -> DayProblem:
    return day_problem_get(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), now=at(6))


def measured(mine: Mine, order: WorkOrder, depth_mm: int) -> Damage:
    damage = order.damages.get()
    damage_measure(
        user=mine.supervisor, damage=damage, length_mm=100, width_mm=80, depth_mm=depth_mm, plies=0
    )
    return damage


def cure_minutes(mine: Mine) -> int:
    (job,) = day(mine).problem.jobs
    return next(stage.minutes for stage in job.stages if stage.name == "Cure")


@pytest.fixture
def mine() -> Mine:
    mine = mine_equipped()
    charted(mine)
    return mine


def test_the_plan_takes_heat_up_and_the_charts_minutes(mine: Mine) -> None:
    """From 60 to 120 °C at 2 °C/min: 30 min before the timer; the chart's 20 mm line: 90 min."""
    mine.order("A1")
    assert cure_minutes(mine) == 30 + 90


def test_an_estimate_prices_the_minutes_that_the_plan_has(mine: Mine) -> None:
    order = mine.order("A1")
    stages = costed_bay_get(site=mine.site).stages_of(order, order.damages.get())
    assert next(stage.minutes for stage in stages if stage.name == "Cure") == cure_minutes(mine) == 30 + 90


def test_a_measured_depth_between_two_lines_is_read_in_a_straight_line(mine: Mine) -> None:
    """50 mm: 190 + (330 - 190) / 2 = 260 min."""
    measured(mine, mine.order("A1"), 50)
    assert cure_minutes(mine) == 30 + 260


def test_without_a_chart_the_route_keeps_its_minutes() -> None:
    mine = mine_equipped()
    mine.order("A1")
    assert cure_minutes(mine) == 100


def test_off_the_chart_the_route_keeps_its_minutes_and_the_warning_says_whom_to_ask(mine: Mine) -> None:
    measured(mine, mine.order("A1"), 90)
    assert cure_minutes(mine) == 60 + 2 * 90
    (warning,) = day(mine).warnings
    assert "runs from 20 to 60 mm" in warning
    assert "ask the material's maker" in warning


def test_a_material_without_its_figures_is_named_and_stops_nothing_else(mine: Mine) -> None:
    bare = mine.add("material", code="bare", name="Bare stock")
    mine.add(
        "curechartline", material=bare, set_kind="side set", thickness_mm=20, timed_min=70, source="sheet"
    )
    order = mine.order("A1")
    Damage.objects.filter(work_order=order).update(material=bare)
    mine.order("A2")
    problem = day(mine)
    assert len(problem.problem.jobs) == 2
    (warning,) = problem.warnings
    assert "Bare stock has no" in warning


def test_layers_below_the_fill_take_heat_of_their_own(mine: Mine) -> None:
    casing = mine.add(
        "material", code="casing", name="Casing", conductivity_w_mk=0.25, density_kg_m3=1150,
        heat_capacity_j_kgk=1800,
    )  # fmt: skip
    order = mine.order("A1")
    (thin,) = order_cure_list(order=order)
    ZoneCure.objects.update(casing=casing)
    Damage.objects.filter(work_order=order).update(casing_mm=30)
    (thick,) = order_cure_list(order=WorkOrder.objects.get(pk=order.pk))
    assert thin.figures is not None
    assert thick.figures is not None
    assert thick.figures.timed_min == thin.figures.timed_min  # the chart stands
    assert thick.figures.model_min > thin.figures.model_min + 30


def test_the_same_injury_is_worked_out_once(mine: Mine) -> None:
    mine.order("A1")
    mine.order("A2")
    day(mine)
    assert CureFigure.objects.count() == 1
    with patch.object(cure_figures, "cure_estimates", side_effect=AssertionError("worked out again")):
        day(mine)


def test_the_number_of_queries_does_not_grow_with_the_cures(mine: Mine) -> None:
    counts = []
    for serials in (["A1"], ["A2", "A3"]):
        for serial in serials:
            mine.order(serial)
        with CaptureQueriesContext(connection) as queries:
            day(mine)
        day(mine)
        with CaptureQueriesContext(connection) as queries:
            day(mine)
        counts.append(len(queries))
    assert counts[0] == counts[1]


def published(mine: Mine, start: datetime) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=start, end=at(18, days=2), seconds=1)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan_publish(user=mine.supervisor, plan=plan, expected_number=None)


@pytest.mark.django_db(transaction=True)
def test_a_deeper_cure_says_that_the_plan_no_longer_holds(
    mine: Mine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cure 30 + 90 = 120 min planned; at 60 mm the chart says 330, so 360 with the heat-up."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    order = mine.order("A1")
    plan = published(mine, at(6))
    assert plan_hold_list(plan=plan, cures=order_cure_list(order=order)) == []
    measured(mine, order, 60)
    (hold,) = plan_hold_list(plan=plan, cures=order_cure_list(order=WorkOrder.objects.get(pk=order.pk)))
    assert hold.changes.startswith("Cure 120 → 360 min, Cool ")
    assert not hold.holds
    assert hold.attended_until is not None
    assert hold.block_ends_at > hold.attended_until
    assert "unattended" in hold.breaches[0]
