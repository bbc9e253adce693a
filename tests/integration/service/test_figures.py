"""The bay's figures as a scraper reads them."""

from datetime import timedelta
from typing import Any

import pytest
from django.conf import settings
from django.db import OperationalError
from django.test import Client
from django.utils import timezone
from prometheus_client.parser import text_string_to_metric_families

from planner.config.celery import app
from planner.models import PlanBuild
from planner.tasks import reap_builds
from tests.lib.mine import Mine, at, mine_open

pytestmark = pytest.mark.django_db


def scraped(client: Client) -> dict[tuple[str, ...], float]:
    families = text_string_to_metric_families(client.get("/metrics").content.decode())
    samples = (sample for family in families for sample in family.samples)
    return {(sample.name, *sample.labels.values()): sample.value for sample in samples}


def build(mine: Mine, state: str, **facts: Any) -> PlanBuild:
    now = timezone.now()
    times = {"requested_at": now, "horizon_start": at(6), "horizon_end": at(18)}
    row = PlanBuild(site=mine.site, requested_by=mine.supervisor, state=state, **{**times, **facts})
    row.save()
    return row


def test_nothing_asked_for_yet(client: Client) -> None:
    found = scraped(client)
    assert found["tyrewright_build_queue_age_seconds",] == 0
    assert found["tyrewright_builds", "failed"] == 0
    assert found["tyrewright_solve_seconds_count",] == 0


def test_age_of_the_queue_is_its_oldest(client: Client) -> None:
    build(mine_open("ridge"), "queued", requested_at=timezone.now() - timedelta(seconds=90))
    build(mine_open("basin"), "queued")
    assert 90 <= scraped(client)["tyrewright_build_queue_age_seconds",] < 150


def test_solves_and_gaps_are_those_of_ended_builds(client: Client) -> None:
    mine, now = mine_open(), timezone.now()
    build(mine, "done", elapsed_seconds=4, lateness=100, bound=20, ended_at=now - timedelta(hours=1))
    build(mine, "done", elapsed_seconds=6, lateness=100, bound=75, ended_at=now)
    build(mine, "failed", elapsed_seconds=9, ended_at=now)
    found = scraped(client)
    assert (found["tyrewright_solve_seconds_count",], found["tyrewright_solve_seconds_sum",]) == (2, 10)
    assert found["tyrewright_solve_gap", "ridge"] == 0.25
    assert found["tyrewright_builds", "failed"] == 1


def test_the_clock_reaps_a_build_whose_worker_is_silent() -> None:
    row = build(mine_open(), "running", progress_at=timezone.now() - timedelta(minutes=5))
    reap_builds()
    row.refresh_from_db()
    assert row.state == "failed"


def test_every_task_of_the_clock_is_one_that_a_worker_knows() -> None:
    app.loader.import_default_modules()
    asked = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    assert asked
    assert asked - set(app.tasks) == set()


def test_a_lost_database_leaves_what_the_process_counts(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lost() -> None:
        raise OperationalError("gone")

    monkeypatch.setattr("planner.config.bay_figures.service_figures_get", lost)
    answer = client.get("/metrics")
    assert answer.status_code == 200
    assert b"tyrewright_requests_total" in answer.content
    assert b"tyrewright_builds" not in answer.content
