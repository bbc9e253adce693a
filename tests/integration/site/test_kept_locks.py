"""Locks by hand outlive a new build, where they can still hold."""

from datetime import timedelta

import pytest

from planner.domain.plan import PlannedJob
from planner.models import Damage, Plan, Technician
from planner.selectors.day_problem import DayProblem, day_problem_get
from planner.selectors.plans import plan_content_get
from planner.services.kept_locks import locks_by_hand_keep
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plan_edit import plan_lock, plan_unlock
from planner.services.stage_runs import stage_run_finish, stage_run_start
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def mine(monkeypatch: pytest.MonkeyPatch) -> Mine:
    """A mine with two tyres to repair, and a broker that takes nothing."""
    monkeypatch.setattr("celery.current_app.send_task", lambda *_, **__: None)
    mine = mine_equipped()
    mine.order("A1")
    mine.order("A2")
    return mine


def draft(mine: Mine) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), seconds=1)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def locked_draft(mine: Mine) -> tuple[Plan, PlannedJob]:
    """A draft with the later of its two tyres locked, and how that one stands."""
    plan = draft(mine)
    job = max(plan_content_get(plan=plan).plan.schedule.jobs, key=lambda each: each.stages[0].start)
    return plan_lock(user=mine.supervisor, draft=plan, job=job.id), job


def problem(mine: Mine, *, hour: int = 6, now_hour: int = 5) -> DayProblem:
    day = day_problem_get(user=mine.supervisor, site=mine.site, start=at(hour), end=at(18, days=2))
    return locks_by_hand_keep(user=mine.supervisor, site=mine.site, day=day, now=at(now_hour))


def test_a_new_build_keeps_what_was_locked_by_hand(mine: Mine) -> None:
    _, job = locked_draft(mine)
    day = problem(mine)
    assert day.problem.locked == (job,)
    assert day.warnings == ()


def test_a_lock_keeps_its_wall_time_in_a_later_horizon(mine: Mine) -> None:
    plan, job = locked_draft(mine)
    before = plan.horizon_start + timedelta(minutes=job.stages[0].start)
    day = problem(mine, hour=7)
    (lock,) = day.problem.locked
    assert day.problem.origin + timedelta(minutes=lock.stages[0].start) == before


def test_an_unlocked_tyre_is_free_in_the_next_build(mine: Mine) -> None:
    plan, job = locked_draft(mine)
    plan_unlock(user=mine.supervisor, draft=plan, job=job.id)
    assert problem(mine).problem.locked == ()


def test_a_lock_whose_time_went_by_is_given_up_and_told(mine: Mine) -> None:
    _, job = locked_draft(mine)
    day = problem(mine, now_hour=16)
    assert day.problem.locked == ()
    (words,) = day.warnings
    assert job.id in words
    assert "went by before it was begun" in words


def test_a_lock_that_a_closure_breaks_is_given_up_with_the_rule(mine: Mine) -> None:
    _, job = locked_draft(mine)
    mine.add("closure", position=mine.position("C1"), starts_at=at(0), ends_at=at(17, days=2), reason="floor")
    day = problem(mine)
    assert day.problem.locked == ()
    assert any(job.id in words and "closed" in words for words in day.warnings)


def test_what_has_begun_is_fixed_by_the_record_and_the_rest_by_the_lock(mine: Mine) -> None:
    _, job = locked_draft(mine)
    skive = job.stages[0]
    damage = Damage.objects.get(work_order__number=int(job.id.removeprefix("WO-")))
    begun = at(6) + timedelta(minutes=skive.start)
    run = stage_run_start(
        user=mine.supervisor, damage=damage, stage_name="Skive", started_at=begun,
        technicians=list(Technician.objects.filter(code__in=skive.technicians)), position=mine.position("P1"),
    )  # fmt: skip
    stage_run_finish(user=mine.supervisor, run=run, ended_at=begun + timedelta(minutes=60))
    now = begun + timedelta(minutes=60)
    day = day_problem_get(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=2), now=now)
    day = locks_by_hand_keep(user=mine.supervisor, site=mine.site, day=day, now=now)
    (lock,) = day.problem.locked
    assert lock.stages[-len(job.stages) + 1 :] == job.stages[1:]
