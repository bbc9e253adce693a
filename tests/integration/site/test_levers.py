"""What would help a plan: asked, tried lever by lever, cancelled."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from planner.domain.errors import NotAllowedError
from planner.models import LeverQuestion, LeverTrialRow, Plan
from planner.services.lever_endings import levers_resume
from planner.services.lever_questions import levers_ask, levers_cancel
from planner.services.lever_trials import lever_baseline_run, lever_trial_run
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def queued(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, Any]]:
    """What was sent to a broker that takes nothing."""
    sent: list[tuple[str, Any]] = []
    monkeypatch.setattr(
        "celery.current_app.send_task", lambda name, args, *_, **__: sent.append((name, list(args)))
    )
    return sent


@pytest.fixture
def mine(queued: list[tuple[str, Any]]) -> Mine:
    """A mine with one heater set and two tyres, both needed when only one of them can be ready."""
    mine = mine_equipped()
    for serial in ("A1", "A2"):
        mine.order(serial, needed_by=at(14))
    return mine


def draft(mine: Mine) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18, days=1), seconds=2)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def trial_done(question: LeverQuestion, lever: str) -> LeverTrialRow:
    row = question.trials.get(lever=lever)
    lever_trial_run(trial_id=row.pk)
    row.refresh_from_db()
    return row


def test_each_lever_is_a_task_of_its_own_after_the_bay_as_it_is(
    mine: Mine, queued: list[tuple[str, Any]]
) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=2)
    assert queued[-1] == ("planner.tasks.lever_baseline", [question.pk])
    lever_baseline_run(question_id=question.pk)
    trials = [("planner.tasks.lever_trial", [row.pk]) for row in question.trials.order_by("pk")]
    assert queued[-len(trials) :] == trials
    position, shift = trial_done(question, "position:C1"), trial_done(question, "shift:30")
    assert (position.state, shift.state) == ("done", "done")
    # One heater set cures both tyres, one after the other: a further position for it buys nothing.
    assert position.within_noise
    more_sets = trial_done(question, "set:H1")
    assert more_sets.lateness is not None
    assert position.lateness is not None
    assert more_sets.lateness <= position.lateness


def test_a_cancelled_question_tries_no_more(mine: Mine) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=2)
    levers_cancel(user=mine.supervisor, question=question)
    lever_baseline_run(question_id=question.pk)
    question.refresh_from_db()
    assert question.state == "cancelled"
    assert set(question.trials.values_list("state", flat=True)) == {"cancelled"}
    assert question.baseline_json == ""


def test_asking_twice_gives_the_open_question_and_a_dead_one_is_ended(mine: Mine) -> None:
    plan = draft(mine)
    first = levers_ask(user=mine.supervisor, plan=plan)
    assert levers_ask(user=mine.supervisor, plan=plan) == first
    LeverQuestion.objects.update(heard_at=timezone.now() - timedelta(hours=1))
    assert levers_ask(user=mine.supervisor, plan=plan) != first
    first.refresh_from_db()
    assert first.state == "failed"


def test_only_a_supervisor_asks(mine: Mine) -> None:
    plan = draft(mine)
    with pytest.raises(NotAllowedError):
        levers_ask(user=mine.users["technician"], plan=plan)


def test_the_page_tells_what_was_tried_in_plain_words(mine: Mine) -> None:
    plan = draft(mine)
    client = Client()
    client.force_login(mine.supervisor)
    address = f"/at/{mine.site.code}/plan/{plan.pk}/help/"
    assert "Try what would help" in client.get(address).content.decode()
    client.post(f"{address}ask/")
    question = LeverQuestion.objects.get()
    LeverQuestion.objects.update(seconds=1)
    lever_baseline_run(question_id=question.pk)
    trial_done(question, "position:C1")
    words = client.get(address).content.decode()
    assert "1 of" in words
    assert "no more than chance" in words
    assert "Try what would help" not in words
    assert "Try again" in client.post(f"{address}cancel/").content.decode()


def silent(question: LeverQuestion, minutes: int) -> None:
    LeverQuestion.objects.filter(pk=question.pk).update(heard_at=timezone.now() - timedelta(minutes=minutes))


def test_what_a_dead_worker_held_has_failed_and_what_waits_is_queued_again(
    mine: Mine, queued: list[tuple[str, Any]]
) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=1)
    lever_baseline_run(question_id=question.pk)
    held, *waiting = question.trials.order_by("pk")
    LeverTrialRow.objects.filter(pk=held.pk).update(state="running")
    queued.clear()
    assert (levers_resume(), queued) == (0, [])  # heard of just now
    silent(question, 3)
    assert levers_resume() == 1
    assert queued == [("planner.tasks.lever_trial", [row.pk]) for row in waiting]
    for row in waiting:
        lever_trial_run(trial_id=row.pk)
    question.refresh_from_db()
    held.refresh_from_db()
    assert (question.state, held.state) == ("done", "failed")
    words = page_of(mine, question.plan)
    assert "One change could not be tried" in words and "Try again" in words


def test_a_question_whose_first_message_was_lost_is_queued_again_and_ends_after_a_quarter_hour(
    mine: Mine, queued: list[tuple[str, Any]]
) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=1)
    queued.clear()
    silent(question, 3)
    levers_resume()
    assert queued == [("planner.tasks.lever_baseline", [question.pk])]
    silent(question, 16)
    levers_resume()
    question.refresh_from_db()
    assert question.state == "failed"
    assert set(question.trials.values_list("state", flat=True)) == {"failed"}
    assert "or did not take it up" in page_of(mine, question.plan)
    assert levers_resume() == 0


def test_a_worker_that_dies_over_the_bay_as_it_is_ends_the_question(mine: Mine) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=1)
    LeverQuestion.objects.update(state="running")
    silent(question, 3)
    levers_resume()
    question.refresh_from_db()
    assert question.state == "failed"


def test_a_fault_over_the_bay_as_it_is_ends_the_question(mine: Mine, monkeypatch: pytest.MonkeyPatch) -> None:
    question = levers_ask(user=mine.supervisor, plan=draft(mine), seconds=1)

    def broken(*_: object, **__: object) -> None:
        raise MemoryError

    monkeypatch.setattr("planner.services.lever_trials.baseline_solve", broken)
    with pytest.raises(MemoryError):
        lever_baseline_run(question_id=question.pk)
    question.refresh_from_db()
    assert question.state == "failed"


def page_of(mine: Mine, plan: Plan) -> str:
    client = Client()
    client.force_login(mine.supervisor)
    return client.get(f"/at/{mine.site.code}/plan/{plan.pk}/help/").content.decode()
