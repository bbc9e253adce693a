"""Building and publishing plans."""

import threading
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.domain.errors import ConflictError, InternalError, NotAllowedError
from planner.domain.states import WrongStateError
from planner.models import Plan, PlanBuild
from planner.scheduling.faults import FaultyFileError
from planner.selectors.plans import plan_content_get, plan_published_get
from planner.selectors.work_orders import tyre_by_order_get
from planner.services.audit import audit_chain_faults
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_cancel, plan_build_reap, plan_build_start
from planner.services.plans import plan_drop, plan_publish
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with one tyre to repair, and a broker that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("A1")
    return mine


def start(mine: Mine) -> PlanBuild:
    return plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=1), seconds=2)


def draft(mine: Mine) -> Plan:
    plan = plan_build_run(build_id=start(mine).pk)
    assert plan is not None, PlanBuild.objects.values_list("message", flat=True)[0]
    return plan


def test_a_build_ends_in_a_verified_draft(mine: Mine) -> None:
    plan = draft(mine)
    build = PlanBuild.objects.get()
    assert (build.state, plan.state, plan.number) == ("done", "draft", None)
    assert [job.id for job in plan_content_get(plan=plan).plan.schedule.jobs] == ["WO-0001"]
    assert audit_chain_faults(site=mine.site) == ()


def test_the_same_texts_are_read_once_and_a_changed_one_again(mine: Mine) -> None:
    plan = draft(mine)
    content = plan_content_get(plan=plan)
    assert plan_content_get(plan=Plan.objects.get()) is content
    lateness = content.plan.score.lateness
    plan.plan_json = plan.plan_json.replace(f'"lateness": {lateness}', f'"lateness": {lateness + 7}', 1)
    assert plan_content_get(plan=plan).plan.score.lateness == lateness + 7
    plan.plan_json = plan.plan_json.replace('"status"', '"statu"', 1)
    for _ in range(2):  # a refusal is not kept in place of a reading
        with pytest.raises(FaultyFileError, match="did you mean status"):
            plan_content_get(plan=plan)


@pytest.mark.parametrize("count", [1, 3])
def test_the_tyres_of_a_plans_orders_take_two_queries(mine: Mine, count: int) -> None:
    mine.order("A2")
    mine.order("A3")
    with CaptureQueriesContext(connection) as queries:
        tyres = tyre_by_order_get(user=mine.supervisor, site=mine.site, numbers=range(1, count + 1))
        found = {number: (tyre.serial, tyre.size) for number, tyre in tyres.items()}
    assert found == {number: (f"A{number}", "20.5R25") for number in range(1, count + 1)}
    assert len(queries) == 2


@pytest.mark.parametrize(("asked", "begins"), [(34, 45), (45, 45), (46, 60)])
def test_a_build_begins_on_the_wall_clocks_grid(mine: Mine, asked: int, begins: int) -> None:
    mine.site.grid_minutes = 15
    start = at(9)
    build = plan_build_start(
        user=mine.supervisor, site=mine.site, start=start + timedelta(minutes=asked), end=at(9, days=1)
    )
    assert build.horizon_start == start + timedelta(minutes=begins)


def test_a_build_runs_once(mine: Mine) -> None:
    build = start(mine)
    assert plan_build_run(build_id=build.pk) is not None
    assert plan_build_run(build_id=build.pk) is None
    assert Plan.objects.count() == 1


def test_one_build_at_a_time_and_who_asked_is_told(mine: Mine) -> None:
    start(mine)
    with pytest.raises(ConflictError, match="supervisor-ridge has a plan in the making"):
        start(mine)


def test_a_cancelled_queued_build_never_runs(mine: Mine) -> None:
    build = start(mine)
    plan_build_cancel(user=mine.supervisor, build=build)
    assert plan_build_run(build_id=build.pk) is None
    assert PlanBuild.objects.get().state == "cancelled"


def test_a_running_build_that_says_nothing_is_reaped(mine: Mine) -> None:
    build = start(mine)
    PlanBuild.objects.update(state="running", progress_at=timezone.now() - timedelta(minutes=1))
    assert plan_build_reap() == 0
    assert plan_build_reap(silent_for=timedelta(0)) == 1
    build.refresh_from_db()
    assert build.state == "failed"
    assert "stopped in the middle" in build.message


def test_a_fault_of_the_input_ends_the_build_with_its_message(mine: Mine) -> None:
    build = start(mine)
    PlanBuild.objects.update(horizon_end=at(6, days=99))
    assert plan_build_run(build_id=build.pk) is None
    build.refresh_from_db()
    assert (build.state, build.message) == ("failed", "a plan covers at most 60 days")


def test_publishing_numbers_and_supersedes(mine: Mine) -> None:
    first = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    second = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=1)
    first.refresh_from_db()
    assert (first.number, first.state, second.number, second.state) == (1, "superseded", 2, "published")


def test_a_newer_draft_leaves_the_published_plan_alone(mine: Mine) -> None:
    published = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    draft(mine)
    found = plan_published_get(user=mine.supervisor, site=mine.site)
    assert found == published
    assert found is not None
    assert found.plan_json == published.plan_json


def test_whoever_saw_an_older_plan_is_told_who_published(mine: Mine) -> None:
    one, two = draft(mine), draft(mine)
    plan_publish(user=mine.supervisor, plan=one, expected_number=None)
    with pytest.raises(ConflictError, match="supervisor-ridge published plan 1 in the meantime"):
        plan_publish(user=mine.supervisor, plan=two, expected_number=None)


def test_a_published_plan_is_not_dropped(mine: Mine) -> None:
    plan = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    with pytest.raises(WrongStateError):
        plan_drop(user=mine.supervisor, plan=plan)


def test_a_stored_plan_that_was_tampered_with_is_not_published(mine: Mine) -> None:
    plan = draft(mine)
    Plan.objects.update(problem_json=plan.problem_json.replace("P1", "P2"))
    with pytest.raises(InternalError, match="not the one that it answers"):
        plan_publish(user=mine.supervisor, plan=plan, expected_number=None)


def test_a_technician_publishes_nothing(mine: Mine) -> None:
    with pytest.raises(NotAllowedError, match="only a supervisor"):
        plan_publish(user=mine.users["technician"], plan=draft(mine), expected_number=None)


def test_of_two_who_publish_at_once_one_wins(mine: Mine) -> None:
    plans, outcomes = [draft(mine), draft(mine)], []
    gate = threading.Barrier(2)

    def publish(plan: Plan) -> None:
        gate.wait()
        outcomes.append(outcome_of(mine, plan))
        connection.close()

    threads = [threading.Thread(target=publish, args=(plan,)) for plan in plans]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(map(str, outcomes)) == [
        "plan 1",
        "supervisor-ridge published plan 1 in the meantime: compare it with yours, then publish",
    ]
    assert audit_chain_faults(site=mine.site) == ()


def outcome_of(mine: Mine, plan: Plan) -> Any:
    try:
        return plan_publish(user=mine.supervisor, plan=plan, expected_number=None)
    except ConflictError as fault:
        return fault
