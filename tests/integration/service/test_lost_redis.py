"""A lost Redis: pages and records go on, what was to be queued is told, nothing answers 500."""

from collections.abc import Iterator

import pytest
from celery import current_app
from django.core.cache import cache, caches
from django.test import override_settings

from planner.models import PlanBuild
from tests.lib.api import caller, told
from tests.lib.lost_broker import NOWHERE, lose_broker
from tests.lib.mine import Mine, at, mine_equipped

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def lost(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Cache and queue point at a Redis that is not there."""
    backend = {"BACKEND": "planner.config.patient_cache.PatientRedisCache", "LOCATION": NOWHERE}
    lose_broker(monkeypatch)
    _forget_connections()
    with override_settings(CACHES={"default": backend}):
        yield
    _forget_connections()
    caches.close_all()


def _forget_connections() -> None:
    """Who asks next connects to the queue by the settings that then hold."""
    current_app._pool = None
    current_app.amqp._producer_pool = None


@pytest.fixture
def mine() -> Mine:
    """The site `ridge`."""
    return mine_equipped()


def test_the_api_reads_and_writes_without_its_counts(mine: Mine, lost: None) -> None:
    supervisor = caller(mine.supervisor)
    assert supervisor.get("sites/ridge/tyres/").status_code == 200
    made = supervisor.post("sites/ridge/tyres/", {"serial": "N-1", "size_as_written": "20.5R25"})
    assert made.status_code == 201
    assert supervisor.client.get("/at/ridge/queue/").status_code == 200


def test_a_plan_that_cannot_be_queued_stands_and_can_be_cancelled(mine: Mine, lost: None) -> None:
    supervisor = caller(mine.supervisor)
    asked = supervisor.post("sites/ridge/plan-builds/", {"start": at(6), "end": at(18)})
    assert (asked.status_code, told(asked)["state"]) == (201, "queued")
    ended = supervisor.post(f"sites/ridge/plan-builds/{told(asked)['id']}/cancel/")
    assert told(ended)["state"] == "cancelled"
    assert PlanBuild.objects.count() == 1


def test_readiness_names_the_queue(mine: Mine, lost: None) -> None:
    answer = caller(None).client.get("/readyz")
    assert (answer.status_code, answer.json()["checks"]) == (503, {"database": "ok", "queue": "unreachable"})
    assert caller(None).client.get("/healthz").status_code == 200


def test_a_lost_cache_is_an_empty_one(lost: None) -> None:
    assert (cache.get("x"), cache.get("x", 7), cache.get_many(["x"])) == (None, 7, {})
    cache.set("x", 1)
    assert (cache.add("x", 1), cache.incr("x"), cache.delete("x")) == (True, 1, False)
