"""Tasks are counted where every process can read it."""

import pytest
from django.core.cache import cache
from prometheus_client import generate_latest

from planner.config.bay_figures import bay_registry
from planner.config.task_counts import task_count

pytestmark = pytest.mark.django_db


def test_what_workers_count_is_told_by_the_web() -> None:
    cache.clear()
    for outcome in ("success", "success", "failure", "odd"):
        task_count(task="planner.tasks.reap_builds", outcome=outcome, seconds=0.5)
    told = generate_latest(bay_registry()).decode()
    name = 'task="planner.tasks.reap_builds"'
    assert f'tyrewright_tasks_total{{outcome="success",{name}}} 2.0' in told
    assert f'tyrewright_tasks_total{{outcome="failure",{name}}} 1.0' in told
    assert f'tyrewright_tasks_total{{outcome="unknown",{name}}} 1.0' in told
    assert f"tyrewright_task_seconds_sum{{{name}}} 2.0" in told


def test_a_lost_cache_loses_the_count_and_not_the_task(monkeypatch: pytest.MonkeyPatch) -> None:
    def lost(*_: object, **__: object) -> None:
        raise ConnectionError

    monkeypatch.setattr(cache, "add", lost)
    task_count(task="planner.tasks.reap_builds", outcome="success", seconds=1)
