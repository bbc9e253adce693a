"""Odds, notices and e-mails whose message was lost are queued again, and the page says what happened."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.core.cache import cache
from django.test import Client
from django.utils import timezone

from planner.domain.notices import NoticeKind
from planner.models import Notice, Plan, PlanReplay, PlanReplayPart
from planner.services.lost_work import lost_work_resume
from planner.services.notices import notice_add, notice_choose
from planner.services.plan_build_run import plan_build_run
from planner.services.plan_builds import plan_build_start
from planner.services.plan_replay_run import plan_replay_run
from planner.services.plans import plan_publish
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)
REPLAY, TELL, MAIL = (f"planner.tasks.{name}" for name in ("replay_plan", "tell_promises", "mail_notice"))


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[tuple[str, Any]]]:
    """What was sent to a queue that then was lost."""
    sent: list[tuple[str, Any]] = []
    monkeypatch.setattr(
        "celery.current_app.send_task", lambda name, args, *_, **__: sent.append((name, list(args)))
    )
    cache.clear()
    yield sent
    cache.clear()


@pytest.fixture
def mine(sent: list[tuple[str, Any]]) -> Mine:
    mine = mine_equipped()
    mine.order("A1")
    return mine


def draft(mine: Mine) -> Plan:
    build = plan_build_start(user=mine.supervisor, site=mine.site, start=at(6), end=at(18), seconds=1)
    plan = plan_build_run(build_id=build.pk)
    assert plan is not None
    return plan


def aged(minutes: int) -> None:
    then = timezone.now() - timedelta(minutes=minutes)
    Plan.objects.update(made_at=then)
    Plan.objects.filter(state="published").update(published_at=then)
    Notice.objects.update(made_at=then)


def odds_page(mine: Mine, plan: Plan, query: str = "") -> str:
    client = Client()
    client.force_login(mine.supervisor)
    return client.get(f"/at/{mine.site.code}/plan/{plan.pk}/odds/{query}").content.decode()


def test_lost_odds_are_asked_for_again_within_the_hour_and_no_oftener_than_each_ten_minutes(
    mine: Mine, sent: list[tuple[str, Any]]
) -> None:
    plan = draft(mine)
    sent.clear()
    lost_work_resume()
    assert sent == []  # a worker may have it in its hands
    aged(5)
    lost_work_resume()
    lost_work_resume()
    parts = [(REPLAY, [plan.pk, part, 4]) for part in range(4)]
    assert sent == parts
    cache.clear()
    plan_replay_run(plan_id=plan.pk, part=2, parts=4, replays=8)
    sent.clear()
    lost_work_resume()
    assert sent == [*parts[:2], parts[3]]  # what one worker has done is done
    PlanReplayPart.objects.update(replayed_at=timezone.now() - timedelta(minutes=61))
    lost_work_resume()
    assert not PlanReplayPart.objects.exists()
    cache.clear()
    plan_replay_run(plan_id=plan.pk, replays=5)
    sent.clear()
    lost_work_resume()
    assert sent == []
    PlanReplay.objects.all().delete()
    aged(61)
    lost_work_resume()
    assert sent == []


def test_the_page_waits_ten_minutes_for_odds_and_then_says_that_none_came(mine: Mine) -> None:
    plan = draft(mine)
    assert "being replayed" in odds_page(mine, plan)
    aged(11)
    told = odds_page(mine, plan)
    assert "This plan was not replayed" in told and "Reckon the odds" in told
    assert "hx-trigger" not in told
    now = int(timezone.now().timestamp())
    assert f"?asked={now}" in odds_page(mine, plan, f"?asked={now}")
    assert "This plan was not replayed" in odds_page(mine, plan, "?asked=" + "9" * 4)
    assert "This plan was not replayed" in odds_page(mine, plan, "?asked=\u0663x")


def test_a_publication_is_told_once_more_where_its_message_may_be_lost(
    mine: Mine, sent: list[tuple[str, Any]]
) -> None:
    plan = plan_publish(user=mine.supervisor, plan=draft(mine), expected_number=None)
    plan_replay_run(plan_id=plan.pk, replays=5)
    sent.clear()
    aged(4)
    lost_work_resume()
    lost_work_resume()
    assert sent == [(TELL, [plan.pk])]


def test_an_e_mail_that_never_went_out_is_queued_again_while_it_is_news(
    mine: Mine, sent: list[tuple[str, Any]]
) -> None:
    user = mine.supervisor
    user.email = "supervisor@bay.example"
    user.save()
    row = notice_add(user=user, site=mine.site, kind=NoticeKind.PROMISE, key="x", title="x")
    assert row is not None
    sent.clear()
    lost_work_resume()
    assert sent == []
    aged(50)
    lost_work_resume()
    assert sent == [(MAIL, [row.pk])]
    cache.clear()
    notice_choose(user=user, site=mine.site, by_mail=False)
    lost_work_resume()
    assert sent == [(MAIL, [row.pk])]
    notice_choose(user=user, site=mine.site, by_mail=True)
    aged(13 * 60)
    lost_work_resume()
    assert sent == [(MAIL, [row.pk])]
