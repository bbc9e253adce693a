"""Notices: followers hear of changed promises, supervisors of alarms, each once, in the app and by e-mail."""

from typing import Any

import pytest
from django.core import mail
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from planner.domain.errors import NotFoundError
from planner.domain.notices import NoticeKind
from planner.models import HeaterSet, Notice, SiteMembership, StageRun, TyreFollow, WorkOrder
from planner.selectors.plans import plan_content_get
from planner.selectors.publication import publication_get
from planner.services.floor_reports import Tap, stage_problem
from planner.services.notice_mail import notice_mail
from planner.services.notices import notice_add, notice_choose, notice_read
from planner.services.plans import plan_publish
from planner.services.promise_notices import promise_notices_tell
from planner.services.tyre_alarms import tyre_alarms_watch
from planner.services.tyre_follows import tyre_follow, tyre_unfollow
from tests.lib.mine import Mine, at, mine_equipped, mine_open
from tests.lib.plans import plan_drafted, plan_next

pytestmark = pytest.mark.django_db


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, list[Any]]]:
    """What is queued, instead of a broker."""
    found: list[tuple[str, list[Any]]] = []
    monkeypatch.setattr("celery.current_app.send_task", lambda name, args, **_: found.append((name, args)))
    return found


@pytest.fixture
def mine(sent: list[tuple[str, list[Any]]]) -> Mine:
    """A mine with one tyre, that the planner follows."""
    mine = mine_equipped()
    planner = mine.users["planner"]
    planner.email = "planner@ridge.example"
    planner.save()
    tyre_follow(user=planner, tyre=mine.order("A1").tyre)
    return mine


def told(mine: Mine, role: str = "planner") -> list[str]:
    return [notice.title for notice in Notice.objects.filter(user=mine.users[role]).order_by("pk")]


def test_a_follower_hears_of_each_change_once_with_both_times_and_why(mine: Mine) -> None:
    first = plan_next(mine)
    assert promise_notices_tell(plan_id=first.pk) == 1
    assert promise_notices_tell(plan_id=first.pk) == 0
    WorkOrder.objects.update(released_at=at(6, days=1))
    second = plan_drafted(mine)
    (change,) = publication_get(user=mine.supervisor, site=mine.site, draft=second).promises
    assert (change.followers, change.is_later) == ((mine.users["planner"],), True)
    plan_publish(user=mine.supervisor, plan=second, expected_number=1, why="the crane is late")
    assert promise_notices_tell(plan_id=second.pk) == 1
    # 60 + 30 + 30 + 60 + 2 × 20 + 30 + 30 min of stages: ready 10:40 where nothing waits
    assert told(mine) == [
        "WO-0001 (A1): promised ready Mon 2 Mar 10:40",
        "WO-0001 (A1): promised ready Tue 3 Mar 10:40 instead of Mon 2 Mar 10:40",
    ]
    assert "Their remark: the crane is late." in Notice.objects.latest("pk").words


def test_the_same_promise_again_is_no_news_and_nobody_else_hears(mine: Mine) -> None:
    promise_notices_tell(plan_id=plan_next(mine).pk)
    promise_notices_tell(plan_id=plan_next(mine, 1).pk)
    assert (len(told(mine)), told(mine, "accountant")) == (1, [])
    tyre_unfollow(user=mine.users["planner"], tyre=WorkOrder.objects.get().tyre)
    assert TyreFollow.objects.count() == 0


def test_a_tyre_that_is_left_out_is_told_with_the_reason(mine: Mine) -> None:
    promise_notices_tell(plan_id=plan_next(mine).pk)
    HeaterSet.objects.update(active=False)
    second = plan_next(mine, 1)
    promise_notices_tell(plan_id=second.pk)
    notice = Notice.objects.latest("pk")
    assert notice.title == "WO-0001 (A1): no longer promised; it was promised for Mon 2 Mar 10:40"
    assert "no heater set" in notice.words.lower()


def test_a_draft_tells_nobody(mine: Mine) -> None:
    assert promise_notices_tell(plan_id=plan_drafted(mine).pk) == 0


def test_publishing_and_telling_queue_their_tasks_on_commit(
    mine: Mine, sent: list[tuple[str, list[Any]]], django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        plan = plan_next(mine)
    assert ("planner.tasks.tell_promises", [plan.pk]) in sent
    with django_capture_on_commit_callbacks(execute=True):
        promise_notices_tell(plan_id=plan.pk)
    assert sent[-1] == ("planner.tasks.mail_notice", [Notice.objects.get().pk])


def notice(mine: Mine, role: str = "planner", key: str = "k") -> Notice:
    row = notice_add(
        user=mine.users[role], site=mine.site, kind=NoticeKind.PROMISE, key=key, title="Later", words="Why"
    )
    assert row is not None
    return row


def test_a_mail_goes_out_once_to_who_wants_it_and_belongs_here(mine: Mine) -> None:
    row = notice(mine)
    assert [notice_mail(notice_id=row.pk) for _ in range(2)] == [True, False]
    (letter,) = mail.outbox
    assert (letter.to, letter.subject) == (["planner@ridge.example"], "Mine ridge: Later")
    assert "Why" in str(letter.body)
    assert notice_mail(notice_id=notice(mine, "accountant").pk) is False  # no address on file
    notice_choose(user=mine.users["planner"], site=mine.site, by_mail=False)
    assert notice_mail(notice_id=notice(mine, key="second").pk) is False
    notice_choose(user=mine.users["planner"], site=mine.site, by_mail=True)
    SiteMembership.objects.filter(user=mine.users["planner"]).delete()
    assert notice_mail(notice_id=notice(mine, key="third").pk) is False
    assert len(mail.outbox) == 1


def test_a_mail_server_that_fails_leaves_the_notice_unsent(
    mine: Mine, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = notice(mine)
    with monkeypatch.context() as patch, pytest.raises(OSError, match="no route"):
        patch.setattr("planner.services.notice_mail.send_mail", _no_route)
        notice_mail(notice_id=row.pk)
    assert notice_mail(notice_id=row.pk) is True


def _no_route(*_: object) -> None:
    raise OSError("no route")


def test_supervisors_hear_of_an_unattended_cure_once(mine: Mine) -> None:
    order = WorkOrder.objects.get()
    damage = order.damages.get()
    WorkOrder.objects.update(state="in_hand")
    StageRun.objects.create(
        site=mine.site, work_order=order, damage=damage, sequence=4, name="Cure", state="running",
        started_at=at(8), heater_set=HeaterSet.objects.get(code="H1"),
    )  # fmt: skip
    assert [tyre_alarms_watch(now=at(9)), tyre_alarms_watch(now=at(10))] == [1, 0]
    assert told(mine, "supervisor") == ["UNATTENDED: WO-0001 on H1, Cure"]
    assert told(mine) == []


def test_supervisors_hear_of_a_problem_from_the_floor(mine: Mine) -> None:
    plan = plan_drafted(mine)
    stage = plan_content_get(plan=plan).plan.schedule.jobs[0].stages[0]
    tap = Tap(job="WO-0001", stage=stage, at=at(7))
    for _ in range(2):
        stage_problem(user=mine.users["technician"], site=mine.site, tap=tap, words="cord is bare")
    assert told(mine, "supervisor") == ["Problem at Skive of WO-0001"]


def test_nobody_reads_the_notices_of_another(mine: Mine) -> None:
    row = notice(mine)
    for user, site in ((mine.supervisor, mine.site), (mine_open("other").supervisor, mine.site)):
        with pytest.raises(NotFoundError):
            notice_read(user=user, site=site, notice_id=row.pk)
    client = Client()
    client.force_login(mine.supervisor)
    assert client.post(f"/at/ridge/notices/{row.pk}/").status_code == 404


def test_the_page_costs_the_same_with_one_notice_and_with_three(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.users["planner"])
    counts = []
    for number in (1, 2, 3):
        notice(mine, key=str(number))
        tyre_follow(user=mine.users["planner"], tyre=mine.order(f"B{number}").tyre)
        with CaptureQueriesContext(connection) as queries:
            page = client.get("/at/ridge/notices/").content.decode()
        counts.append(len(queries))
        assert page.count("Later") == 2 * number  # the title, and its button's hidden words
    assert len(set(counts)) == 1


def test_a_reader_follows_reads_and_turns_mail_off_on_the_pages(mine: Mine) -> None:
    client = Client()
    client.force_login(mine.users["technician"])
    client.post("/at/ridge/orders/1/follow/")
    assert "Follow it no longer" in client.get("/at/ridge/orders/1/").content.decode()
    row = notice(mine, "technician")
    assert "1<span" in client.get("/at/ridge/").content.decode().partition('class="bell"')[2][:200]
    assert client.post(f"/at/ridge/notices/{row.pk}/").status_code == 302
    client.post("/at/ridge/notices/choice/", {"by_mail": "no"})
    assert "stay in the app" in client.get("/at/ridge/notices/").content.decode()
    client.post("/at/ridge/orders/1/unfollow/")
    assert TyreFollow.objects.filter(user=mine.users["technician"]).count() == 0


def test_publishing_shows_whom_it_would_tell(mine: Mine) -> None:
    plan = plan_drafted(mine)
    client = Client()
    client.force_login(mine.supervisor)
    part = client.get(f"/at/ridge/plan/{plan.pk}/tells/").content.decode()
    assert "<strong>planner-ridge</strong>: WO-0001 (A1): promised ready Mon 2 Mar 10:40" in part
    client.force_login(mine.users["planner"])
    assert client.get(f"/at/ridge/plan/{plan.pk}/tells/").status_code == 403
