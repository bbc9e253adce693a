"""Webhooks: signed, tried again ever later, given up, logged; and never sent where they must not go."""

import json
import socket
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import override_settings
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.webhooks import WAITS_S, WebhookEvent
from planner.models import Damage, HeaterSet, SiteMembership, StageRun, TyreAlarm, Webhook, WebhookDelivery
from planner.services.tyre_alarms import tyre_alarms_watch
from planner.services.tyre_watches import watch_sign_on
from planner.services.webhook_delivery import delivery_run, webhook_sweep
from planner.services.webhook_events import event_add
from planner.services.webhook_sending import receiver_of
from planner.services.webhooks import webhook_end, webhook_make, webhook_try
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine, at, mine_equipped
from tests.lib.receiver import Receiver, is_signed, receiving

pytestmark = pytest.mark.django_db


@pytest.fixture
def mine() -> Mine:
    """The site `ridge`."""
    return mine_equipped()


@pytest.fixture
def receiver() -> Iterator[Receiver]:
    """A receiver whose network the service allows."""
    with receiving() as found, override_settings(WEBHOOK_NETWORKS=["127.0.0.0/8"]):
        yield found


@pytest.fixture
def queued(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, int]]:
    """What was queued, and after how many seconds."""
    sent: list[tuple[str, int]] = []
    monkeypatch.setattr(
        "celery.current_app.send_task", lambda name, args, countdown=0: sent.append((name, countdown))
    )
    monkeypatch.setattr("django.db.transaction.on_commit", lambda work, **_: work())
    return sent


def made(mine: Mine, url: str, *events: WebhookEvent) -> tuple[Webhook, str]:
    user = mine.users["administrator"]
    return webhook_make(
        user=user, site=mine.site, name="ERP", url=url, events=events or [WebhookEvent.PLAN_PUBLISHED]
    )


def tried(mine: Mine, webhook: Webhook) -> WebhookDelivery:
    return webhook_try(user=mine.users["administrator"], webhook=webhook)


def run(row: WebhookDelivery) -> WebhookDelivery:
    """A worker takes the delivery up, when it is due."""
    WebhookDelivery.objects.filter(pk=row.pk).update(next_at=timezone.now())
    delivery_run(delivery_id=row.pk)
    row.refresh_from_db()
    return row


def test_a_message_is_signed_and_its_secret_stands_nowhere(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    webhook, secret = made(mine, receiver.url)
    row = run(tried(mine, webhook))
    assert (row.state, row.answer, row.tries, queued[0]) == (
        "delivered", 204, 1, ("planner.tasks.deliver_webhook", 0),
    )  # fmt: skip
    headers, body = receiver.messages[0]
    assert is_signed(headers, body, secret)
    assert not is_signed(headers, body + " ", secret)
    assert abs(int(headers["webhook-timestamp"]) - timezone.now().timestamp()) < 60
    assert json.loads(body)["type"] == "webhook.tried"
    assert receiver.paths == ["/hook?of=bay"]
    assert secret not in json.dumps(list(Webhook.objects.values()), default=str)


def test_a_delivery_is_made_once_whoever_runs_it_again(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    row = run(tried(mine, made(mine, receiver.url)[0]))
    delivery_run(delivery_id=row.pk)
    run(row)
    assert len(receiver.messages) == 1


@pytest.mark.parametrize("answer", [301, 302, 307, 400, 500])
def test_a_bad_answer_is_tried_again_under_the_same_id(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]], answer: int
) -> None:
    receiver.answers = [answer, 200]
    row = run(tried(mine, made(mine, receiver.url)[0]))
    assert (row.state, row.answer, row.fault) == ("waiting", answer, f"answered {answer}")
    assert queued[-1] == ("planner.tasks.deliver_webhook", WAITS_S[0])
    delivery_run(delivery_id=row.pk)  # too early
    assert len(receiver.messages) == 1
    assert run(row).state == "delivered"
    # A redirect is never followed: the same path both times.
    assert receiver.paths == ["/hook?of=bay"] * 2
    assert len({headers["webhook-id"] for headers, _ in receiver.messages}) == 1


def test_it_is_given_up_in_the_end_and_sent_again_when_asked(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    receiver.answers = [503]
    row = tried(mine, made(mine, receiver.url)[0])
    for number in range(len(WAITS_S) + 1):
        assert row.state == "waiting", number
        run(row)
    assert (row.state, row.tries) == ("given_up", 8)
    assert sum(WAITS_S) < 24 * 3600
    receiver.answers = [200]
    administrator = caller(mine.users["administrator"])
    path = f"sites/ridge/webhooks/{row.webhook_id}/deliveries/{row.pk}/"
    again = administrator.post(f"{path}again/", None, if_match=administrator.get(path)["ETag"])
    assert told(again)["state"] == "waiting"
    assert run(row).state == "delivered"


def test_nobody_there_is_told_in_the_log(mine: Mine, queued: list[tuple[str, int]]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))  # bound and not listening: a connection is refused
        url = f"http://127.0.0.1:{taken.getsockname()[1]}/"
        with override_settings(WEBHOOK_NETWORKS=["127.0.0.0/8"]):
            row = run(tried(mine, made(mine, url)[0]))
    assert (row.state, row.fault) == ("waiting", "no answer: ConnectionRefusedError")


def test_a_network_that_is_no_longer_allowed_is_not_called(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    row = tried(mine, made(mine, receiver.url)[0])
    with override_settings(WEBHOOK_NETWORKS=[]):
        run(row)
    assert (receiver.messages, row.state) == ([], "waiting")
    assert "https" in row.fault


def test_the_clock_sends_what_was_lost(mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]) -> None:
    tried(mine, made(mine, receiver.url)[0])
    queued.clear()
    assert (webhook_sweep(), len(queued)) == (1, 1)


def test_it_tells_nothing_once_its_maker_is_gone_or_it_was_ended(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    administrator = mine.users["administrator"]
    first, second = made(mine, receiver.url)[0], made(mine, receiver.url)[0]
    rows = [tried(mine, first), tried(mine, second)]
    webhook_end(user=administrator, webhook=first)
    SiteMembership.objects.filter(user=administrator).update(role="planner")
    assert [run(row).state for row in rows] == ["given_up", "given_up"]
    assert receiver.messages == []


@pytest.mark.parametrize(
    "url",
    [
        "http://203.0.114.9/", "https://127.0.0.1/", "https://10.0.0.1/", "https://192.168.1.1/x",
        "https://169.254.169.254/latest/meta-data/", "https://[::1]/", "https://[fe80::1]/", "https://0.0.0.0/",
        "https://[::ffff:127.0.0.1]/", "https://[2002:7f00:1::]/", "https://[64:ff9b::7f00:1]/",
        "https://100.64.0.1/", "https://224.0.0.1/", "https://2130706433/", "https://0x7f.1/", "https://localhost/",
        "ftp://8.8.8.8/", "file:///etc/passwd", "https://user:pw@8.8.8.8/", "https:///x", "//8.8.8.8/", "",
        "https://8.8.8.8:99999/", "https://8.8.8.8/ x", "https://8.8.8.8/\r\nX: y", "gopher://8.8.8.8/",
        "https://8.8.8.8/#x", "https://[::7f00:1]/", "https://[::ffff:0:7f00:1]/", "https://[fec0::1]/",
        "https://[5f00::1]/", "https://[64:ff9b:1::a00:1]/", "https://192.88.99.1/", "https://240.0.0.1/",
    ],
)  # fmt: skip
def test_an_address_that_must_not_be_called_is_refused(url: str) -> None:
    with pytest.raises(InvalidValueError):
        receiver_of(url)


def test_public_addresses_and_allowed_networks_are_fit() -> None:
    assert receiver_of("https://8.8.8.8:8443/a?b=c").target == "/a?b=c"
    assert receiver_of("https://[2620:fe::fe]/").port == 443
    with override_settings(WEBHOOK_NETWORKS=["10.20.0.0/16", "fd00::/8"]):
        assert receiver_of("http://10.20.3.4/").port == 80
        assert receiver_of("https://[fd00::7]/").address == "fd00::7"
        with pytest.raises(InvalidValueError):
            receiver_of("https://10.21.3.4/")


def test_a_name_with_one_unfit_address_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = [(2, 1, 6, "", ("8.8.8.8", 443)), (2, 1, 6, "", ("127.0.0.1", 443))]
    monkeypatch.setattr(socket, "getaddrinfo", lambda *_, **__: answers)
    with pytest.raises(InvalidValueError, match="no public address"):
        receiver_of("https://two-faced.example/")


def test_the_address_that_was_checked_is_the_one_that_is_called(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A name that changes between the check and the call (rebinding) is asked for once."""
    port, asked = int(receiver.url.rsplit(":", 1)[1].split("/")[0]), []

    def look_up(host: str, *others: Any, **named: Any) -> list[Any]:
        if host != "bay.example":
            return real(host, *others, **named)
        asked.append(host)
        return [(2, 1, 6, "", ("127.0.0.1" if len(asked) < 3 else "192.0.2.1", port))]

    real, url = socket.getaddrinfo, f"http://bay.example:{port}/hook"
    monkeypatch.setattr(
        socket,
        "getaddrinfo",
        lambda host, *a, **k: look_up(host) if host == "bay.example" else real(host, *a, **k),
    )
    assert run(tried(mine, made(mine, url)[0])).state == "delivered"
    assert asked == ["bay.example"] * 2  # when it was made, and when it was sent
    assert receiver.messages[0][0]["host"] == f"bay.example:{port}"


def test_an_unattended_tyre_is_told_once_until_it_was_attended(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    made(mine, receiver.url, WebhookEvent.TYRE_UNATTENDED)
    order = mine.order("A1")
    damage = Damage.objects.get(work_order=order)
    StageRun.objects.create(
        site=mine.site, work_order=order, damage=damage, sequence=4, name="Cure", state="running",
        started_at=at(7), heater_set=HeaterSet.objects.get(code="H1"),
    )  # fmt: skip
    assert [tyre_alarms_watch(now=at(8)), tyre_alarms_watch(now=at(8, 1))] == [1, 0]
    body = json.loads(WebhookDelivery.objects.get().body)
    assert body["data"]["work_order"] == "WO-0001"
    watch_sign_on(user=mine.supervisor, site=mine.site, damage_id=damage.pk, technician="T1", now=at(9))
    assert tyre_alarms_watch(now=at(9)) == 0
    assert TyreAlarm.objects.get().ended_at == at(9)
    # The shift of T1 ends at 18:00.
    assert tyre_alarms_watch(now=at(18)) == 1


def test_only_who_asked_is_told_and_the_ids_differ(mine: Mine, receiver: Receiver) -> None:
    first, second = made(mine, receiver.url)[0], made(mine, receiver.url)[0]
    made(mine, receiver.url, WebhookEvent.TYRE_UNATTENDED)
    event_add(site=mine.site, event=WebhookEvent.PLAN_PUBLISHED, data=lambda: {"plan": 1, "number": 1})
    rows = WebhookDelivery.objects.all()
    assert {row.webhook_id for row in rows} == {first.pk, second.pk}
    assert len({row.event_id for row in rows}) == 2


def administrator_of(mine: Mine) -> Caller:
    return caller(mine.users["administrator"])


def test_a_webhook_over_the_api_tells_its_secret_once(mine: Mine, receiver: Receiver) -> None:
    administrator = administrator_of(mine)
    wanted = {"name": "ERP", "url": receiver.url, "events": ["plan.published", "promises.changed"]}
    answers = [administrator.post("sites/ridge/webhooks/", wanted, idempotency_key="w1") for _ in range(2)]
    assert told(answers[0])["secret"].startswith("whsec_")
    assert told(answers[1])["secret"] is None
    path = f"sites/ridge/webhooks/{told(answers[0])['id']}/"
    read = administrator.get(path)
    assert "secret" not in told(read) and "nonce" not in told(read)
    assert administrator.patch(path, {"url": "https://10.9.9.9/"}, if_match=read["ETag"]).status_code == 422
    changed = administrator.patch(path, {"events": ["tyre.unattended"]}, if_match=read["ETag"])
    assert told(changed)["events"] == ["tyre.unattended"]
    assert administrator.patch(path, {"events": []}, if_match=changed["ETag"]).status_code == 422
    assert administrator.send("DELETE", path, None, if_match=changed["ETag"]).status_code == 204
    assert administrator.post(f"{path}try/").status_code == 409


def test_the_log_costs_as_many_queries_for_three_rows_as_for_one(
    mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]
) -> None:
    webhook, counts = made(mine, receiver.url)[0], []
    for more in (1, 2):
        for _ in range(more):
            tried(mine, webhook)
        with CaptureQueriesContext(connection) as queries:
            answer = administrator_of(mine).get(f"sites/ridge/webhooks/{webhook.pk}/deliveries/")
        counts.append(len(queries))
    assert (told(answer)["count"], counts[0]) == (3, counts[1])


def test_an_old_claim_is_taken_over(mine: Mine, receiver: Receiver, queued: list[tuple[str, int]]) -> None:
    row = tried(mine, made(mine, receiver.url)[0])
    WebhookDelivery.objects.filter(pk=row.pk).update(tries=1, next_at=timezone.now() + timedelta(minutes=2))
    assert webhook_sweep() == 0
    WebhookDelivery.objects.filter(pk=row.pk).update(next_at=timezone.now() - timedelta(seconds=1))
    assert webhook_sweep() == 1
    assert run(row).state == "delivered"
