"""Planned again in the middle of the day: little moves, and a stage that runs over is offered as a reason."""

from datetime import timedelta
from functools import partial

import pytest
from django.test import Client

from planner.models import Damage, Plan, PlanBuild, StageRun
from planner.selectors.overruns import overrun_list
from planner.selectors.plan_moves import promised_still
from planner.selectors.plans import plan_content_get
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plans import plan_publish
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with two tyres to repair, and a broker that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    for serial in ("A1", "A2"):
        mine.order(serial)
    return mine


def built(mine: Mine, hour: int = 6, stability: int | None = None) -> Plan:
    build = plan_build_start(
        user=mine.supervisor, site=mine.site, start=at(hour), end=at(18, days=2), seconds=2,
        stability=stability,
    )  # fmt: skip
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None, PlanBuild.objects.get(pk=build.pk).message
    return plan


def test_nothing_moves_where_nothing_happened(mine: Mine) -> None:
    published = plan_publish(user=mine.supervisor, plan=built(mine), expected_number=None)
    again = built(mine, stability=100)
    before, now = plan_content_get(plan=published), plan_content_get(plan=again)
    assert {(job.id, stage.name, stage.start) for job in now.plan.schedule.jobs for stage in job.stages} == {
        (job.id, stage.name, stage.start) for job in before.plan.schedule.jobs for stage in job.stages
    }
    assert again.based_on == published


def test_the_published_times_stand_on_the_new_clock(mine: Mine) -> None:
    published = plan_content_get(plan=built(mine))
    later = plan_content_get(plan=built(mine, hour=8)).problem
    moved = {job.id: job.stages[0].start for job in promised_still(later, published).jobs}
    assert moved == {job.id: job.stages[0].start - 120 for job in published.plan.schedule.jobs}


def test_a_stage_that_runs_over_offers_to_plan_again(mine: Mine) -> None:
    plan = plan_publish(user=mine.supervisor, plan=built(mine), expected_number=None)
    job = plan_content_get(plan=plan).plan.schedule.jobs[0]
    damage = Damage.objects.get(work_order__number=int(job.id.removeprefix("WO-")))
    assert damage.work_order
    due = at(6) + timedelta(minutes=job.stages[0].end)
    StageRun.objects.create(
        site=mine.site, work_order=damage.work_order, damage=damage, sequence=1, name=job.stages[0].name,
        started_at=at(6), plan=plan,
    )  # fmt: skip
    over_at = partial(overrun_list, user=mine.supervisor, site=mine.site, plan=plan)
    assert over_at(now=due) == []
    (over,) = over_at(now=due + timedelta(minutes=40))
    assert (over.run.work_order.code, over.minutes_over, over.due_at) == (job.id, 40, due)


def test_only_a_plan_that_holds_can_be_planned_again(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.supervisor)
    answer = client.post(f"/at/{mine.site.code}/plan/again/")
    assert answer.status_code == 422
    assert "build a new one" in answer.content.decode()
