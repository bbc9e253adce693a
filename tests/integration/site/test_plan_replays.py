"""Odds stored with a plan, and the site's own spreads behind them."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from planner.models import Damage, Plan, PlanReplay, PlanReplayPart, Site, StageRun
from planner.selectors.plan_odds import order_odds_map_get, plan_odds_get
from planner.selectors.plan_promises import promise_map_get
from planner.selectors.plans import plan_content_get
from planner.selectors.stage_spreads import ENOUGH_RUNS, stage_spreads_get
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plan_replay_run import plan_replay_run
from planner.services.plans import plan_drop, plan_publish
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def queued(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, Any]]:
    """What was sent to a broker that takes nothing."""
    sent: list[tuple[str, Any]] = []
    monkeypatch.setattr("celery.current_app.send_task", lambda name, args: sent.append((name, args)))
    return sent


@pytest.fixture
def mine(queued: list[tuple[str, Any]]) -> Mine:
    """A mine with one tyre to repair."""
    mine = mine_equipped()
    mine.order("A1")
    return mine


def draft(mine: Mine) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=1)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def page(mine: Mine, address: str) -> str:
    client = Client()
    client.force_login(mine.supervisor)
    answer = client.get(f"/at/{mine.site.code}/{address}")
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_build_asks_for_its_odds_and_publishing_does_not_ask_twice(
    mine: Mine, queued: list[tuple[str, Any]]
) -> None:
    plan = draft(mine)
    asked = [("planner.tasks.replay_plan", [plan.pk, part, 4]) for part in range(4)]
    assert [one for one in queued if one in asked] == asked
    assert plan_replay_run(plan_id=plan.pk, replays=50) is not None
    plan_publish(user=mine.supervisor, plan=plan, expected_number=None)
    assert [one for one in queued if one in asked] == asked


def test_odds_are_stored_once_and_say_what_the_plan_promises_at_best(mine: Mine) -> None:
    plan = draft(mine)
    plan_replay_run(plan_id=plan.pk, replays=200)
    assert plan_replay_run(plan_id=plan.pk, replays=200) is None
    assert PlanReplay.objects.get().measured == []
    odds = order_odds_map_get(plan=plan)["WO-0001"]
    ready = promise_map_get(plan=plan)["WO-0001"].ready_at
    assert odds.p50 is not None
    assert odds.p90 is not None
    assert ready is not None
    # A lone tyre with stages that scatter about their planned minutes: the halfway time is near the plan's.
    assert abs(odds.p50 - ready) < timedelta(hours=1)
    assert odds.p50 <= odds.p90
    assert odds.in_time == 1.0
    found = plan_odds_get(plan=plan)
    assert found is not None and found.replays == 200


def test_parts_done_by_several_workers_come_to_the_same_odds(mine: Mine) -> None:
    plan = draft(mine)
    whole = plan_replay_run(plan_id=plan.pk, replays=90)
    assert whole is not None
    alone = list(whole.jobs.values("job", "in_time", "p50_at", "p90_at", "held", "held_at", "unattended"))
    whole.delete()
    for part in (2, 0, 0):  # one comes twice
        assert plan_replay_run(plan_id=plan.pk, part=part, parts=3, replays=90) is None
    row = plan_replay_run(plan_id=plan.pk, part=1, parts=3, replays=90)
    assert row is not None
    assert row.replays == 90
    assert list(row.jobs.values(*alone[0])) == alone
    assert not PlanReplayPart.objects.exists()


def test_a_dropped_draft_is_not_replayed(mine: Mine) -> None:
    plan = draft(mine)
    plan_drop(user=mine.supervisor, plan=plan)
    assert plan_replay_run(plan_id=plan.pk, replays=50) is None
    assert not PlanReplay.objects.exists()


def test_pages_show_the_odds(mine: Mine) -> None:
    plan = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    assert "in time" not in page(mine, "queue/")
    assert "being replayed" in page(mine, f"plan/{plan.pk}/odds/")
    plan_replay_run(plan_id=plan.pk, replays=50)
    for address in ("queue/", "orders/1/"):
        assert "9 in 10 by" in page(mine, address)
    words = page(mine, f"plan/{plan.pk}/odds/")
    assert "From 50 replays" in words
    assert "is assumed" in words


def runs_add(mine: Mine, plan: Plan, count: int, factor: float) -> None:
    """Skives that took `factor` times what the plan gave; each of an injury of its own."""
    stage = plan_content_get(plan=plan).plan.schedule.jobs[0].stages[0]
    order = Damage.objects.order_by("pk")[0].work_order
    assert order is not None
    for number in range(count):
        damage = mine.damage(order.tyre)
        begun = at(6, days=number)
        StageRun.objects.create(
            site=mine.site, work_order=order, damage=damage, sequence=1, name=stage.name, state="done",
            plan=plan, started_at=begun,
            ended_at=begun + timedelta(minutes=(stage.end - stage.start) * (factor + 0.1 * number)),
        )  # fmt: skip


def test_runs_from_before_the_first_plan_are_held_against_their_route(mine: Mine) -> None:
    plan = draft(mine)
    runs_add(mine, plan, ENOUGH_RUNS, 1.0)
    by_plan = stage_spreads_get(site=mine.site)["Skive"]
    StageRun.objects.update(plan=None)
    # The route gives Skive the same 60 min as the plan did.
    assert stage_spreads_get(site=mine.site)["Skive"] == by_plan
    StageRun.objects.update(name="Rig")  # of the heat block, whose length is the cure's own
    assert stage_spreads_get(site=mine.site) == {}


def test_the_demo_site_has_spreads_of_its_own(demo_loaded: Callable[[date], None]) -> None:
    demo_loaded(timezone.localdate())
    spreads = stage_spreads_get(site=Site.objects.get(code="halfmoon"))
    # Work by hand of 96 past repairs, done at 75 to 144 % of what the route gives it.
    for stage in ("Skive and buff", "Cement", "Fill", "Finish and inspect"):
        assert 0.8 < spreads[stage].median < 1.1 < spreads[stage].p90 < 1.8


def test_the_sites_own_stages_scatter_as_they_did_once_there_are_enough(mine: Mine) -> None:
    plan = draft(mine)
    runs_add(mine, plan, ENOUGH_RUNS - 1, 1.0)
    assert stage_spreads_get(site=mine.site) == {}
    runs_add(mine, plan, 1, 1.7)
    # Factors 1.0, 1.1 … 1.7: by nearest rank the 4th of 8 is the median, the 8th the 90th percentile.
    (spread,) = stage_spreads_get(site=mine.site).values()
    assert spread.median == pytest.approx(1.3)
    assert spread.p90 == pytest.approx(1.7)
    row = plan_replay_run(plan_id=plan.pk, replays=50)
    assert row is not None
    assert row.measured == ["Skive"]
