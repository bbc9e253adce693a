"""A create that is asked for again with its key makes nothing new."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from planner.models import ApiToken, AuditEvent, KeptAnswer, Tyre
from planner.services.kept_answers import KEPT_FOR
from tests.lib.api import Caller, caller, told
from tests.lib.mine import Mine

TYRE = {"serial": "N-1", "size_as_written": "27.00 R 49"}


def test_the_same_key_gets_the_first_answer(mine: Mine, supervisor: Caller) -> None:
    first = supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
    again = supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
    assert (first.status_code, again.status_code) == (201, 201)
    assert told(again) == told(first)
    assert again["ETag"] == first["ETag"]
    assert (again.get("Idempotency-Replayed"), first.get("Idempotency-Replayed")) == ("true", None)
    assert Tyre.objects.filter(serial="N-1").count() == 1


def test_the_same_key_with_another_body_is_refused(mine: Mine, supervisor: Caller) -> None:
    supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
    other = supervisor.post("sites/ridge/tyres/", {**TYRE, "serial": "N-2"}, idempotency_key="k-1")
    assert other.status_code == 422
    assert "another request" in told(other)["detail"]
    assert not Tyre.objects.filter(serial="N-2").exists()


def test_a_refused_create_leaves_its_key_free(mine: Mine, supervisor: Caller) -> None:
    bad = supervisor.post("sites/ridge/tyres/", {**TYRE, "size_as_written": "?"}, idempotency_key="k-1")
    assert bad.status_code == 422
    assert supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1").status_code == 201


def test_another_user_may_use_the_same_key(mine: Mine, supervisor: Caller) -> None:
    supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
    planner = caller(mine.users["planner"])
    made = planner.post("sites/ridge/tyres/", {**TYRE, "serial": "N-2"}, idempotency_key="k-1")
    assert made.status_code == 201


def test_a_key_is_forgotten_after_a_day(mine: Mine, supervisor: Caller) -> None:
    supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
    KeptAnswer.objects.update(made_at=timezone.now() - KEPT_FOR * 2)
    made = supervisor.post("sites/ridge/tyres/", {**TYRE, "serial": "N-2"}, idempotency_key="k-1")
    assert made.status_code == 201


def test_key_and_change_are_one_transaction(mine: Mine, supervisor: Caller) -> None:
    with transaction.atomic():
        supervisor.post("sites/ridge/tyres/", TYRE, idempotency_key="k-1")
        transaction.set_rollback(True)
    assert not KeptAnswer.objects.exists()
    assert not Tyre.objects.filter(serial="N-1").exists()


def test_the_secret_of_a_token_is_never_kept(mine: Mine, supervisor: Caller) -> None:
    wanted = {
        "name": "fleet", "actions": ["site_read"], "expires_at": timezone.now() + timedelta(days=9),
    }  # fmt: skip
    first = supervisor.post("sites/ridge/tokens/", wanted, idempotency_key="k-1")
    again = supervisor.post("sites/ridge/tokens/", wanted, idempotency_key="k-1")
    secret = told(first)["secret"]
    assert told(again) == {**told(first), "secret": None}
    kept = KeptAnswer.objects.get()
    assert secret not in kept.body
    assert ApiToken.objects.count() == 1
    assert not AuditEvent.objects.filter(what__contains=secret).exists()
