"""An order's page says when it is promised ready, why then, and what would bring it forward."""

import pytest
from django.test import Client

from planner.models import Damage, HeaterSet, LeverQuestion, LeverTrialRow, Plan, WorkOrder
from planner.selectors.plans import plan_content_get
from planner.services.plan_replay_run import plan_replay_run
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.plans import plan_next

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("A1")
    return mine


def why(mine: Mine) -> str:
    client = Client()
    client.force_login(mine.users["planner"])
    return client.get("/at/ridge/orders/1/why/").content.decode()


def test_before_a_plan_nothing_is_promised(mine: Mine) -> None:
    assert "No plan is published yet" in why(mine)


def test_a_tyre_in_time_is_told_with_its_odds(mine: Mine) -> None:
    plan = plan_next(mine)
    assert "not worked out yet" in why(mine)
    plan_replay_run(plan_id=plan.pk, replays=50)
    page = why(mine)
    assert "Mon 2 Mar 10:40" in page
    assert "P50" in page
    assert "P90" in page
    assert "ready when it is needed" in page


def test_a_late_tyre_says_by_how_much_and_why(mine: Mine) -> None:
    WorkOrder.objects.update(needed_by=at(8))
    plan_next(mine)
    page = why(mine)
    # Ready 10:40, needed 08:00; no bay does 280 min of stages in 120
    assert "2 h 40 min late" in page
    assert "Even with the bay to itself" in page


def test_an_order_that_could_not_enter_says_so(mine: Mine) -> None:
    HeaterSet.objects.update(active=False)
    plan_next(mine)
    assert "heater set" in why(mine).lower()


def test_levers_that_gain_more_than_chance_are_named(mine: Mine) -> None:
    plan = plan_next(mine)
    assert "Nobody has tried" in why(mine)
    lever_add(mine, plan, "another heater set", gain=600, noise=False)
    lever_add(mine, plan, "a longer shift", gain=100, noise=True)
    page = why(mine)
    # 600 weighted minutes over a weight of 10 in all
    assert "another heater set: 1 h sooner" in page
    assert "a longer shift" not in page


def lever_add(mine: Mine, plan: Plan, words: str, gain: int, noise: bool) -> None:
    question, _new = LeverQuestion.objects.get_or_create(
        plan=plan, site=mine.site, defaults={"asked_by": mine.supervisor, "asked_at": at(7), "state": "done"}
    )
    LeverTrialRow.objects.create(
        site=mine.site, question=question, lever=words, words=words, state="done", lateness=0,
        tyres_in_time=1, lateness_gain=gain, tyres_gain=0, gap=0, within_noise=noise,
    )  # fmt: skip


def test_the_queue_says_what_keeps_an_order_out_of_every_plan(mine: Mine) -> None:
    HeaterSet.objects.update(active=False)
    plan_next(mine)
    client = Client()
    client.force_login(mine.users["planner"])
    queue = client.get("/at/ridge/queue/").content.decode()
    assert "cannot be planned" in queue
    assert "not in the plan yet" not in queue
    assert "cannot be planned" in client.get("/at/ridge/orders/1/").content.decode()


def test_the_order_shows_the_stages_of_each_of_its_injuries_by_the_bays_names(mine: Mine) -> None:
    order = WorkOrder.objects.get()
    mine.damage(order.tyre)
    Damage.objects.update(work_order=order)
    plan = plan_next(mine)
    jobs = [job.id for job in plan_content_get(plan=plan).plan.schedule.jobs]
    assert jobs == ["WO-0001", "WO-0001.2"]
    client = Client()
    client.force_login(mine.users["planner"])
    page = client.get("/at/ridge/orders/1/").content.decode()
    assert [job in page for job in jobs] == [True, True]
    assert HeaterSet.objects.values_list("name", flat=True)[0] in page


def test_the_stage_that_loses_its_shift_is_named_with_how_often(mine: Mine) -> None:
    plan = plan_next(mine)
    replay = plan_replay_run(plan_id=plan.pk, replays=4)
    assert replay is not None
    replay.jobs.update(held=0.75, held_at="cure")
    page = why(mine)
    assert "In 75 % of the replays" in page
    assert "“cure”" in page
