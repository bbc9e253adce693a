"""How tasks ended and how long they ran: counted in the shared cache, since no scraper asks a worker."""

import logging
from collections.abc import Iterator

from celery import current_app
from django.core.cache import cache
from prometheus_client.core import CounterMetricFamily, Metric, SummaryMetricFamily

OUTCOMES = ("success", "failure", "retry", "unknown")
logger = logging.getLogger("tyrewright.tasks")


def task_count(*, task: str, outcome: str, seconds: float) -> None:
    """Count one ended task; a lost cache loses the count and never the task."""
    counted = outcome if outcome in OUTCOMES else "unknown"
    try:
        for key, more in ((_key(task, counted), 1), (_key(task, "ms"), round(seconds * 1000))):
            cache.add(key, 0, timeout=None)
            cache.incr(key, more)
    except Exception:
        logger.exception("a task was not counted")


def task_figures() -> Iterator[Metric]:
    """Both families, of every task of ours."""
    names = sorted(name for name in current_app.tasks if name.startswith("planner."))
    ended = CounterMetricFamily(
        "tyrewright_tasks", "Background tasks ended, by name and outcome", labels=["task", "outcome"]
    )
    ran = SummaryMetricFamily("tyrewright_task_seconds", "Time that tasks ran [s]", labels=["task"])
    kept = cache.get_many([_key(name, what) for name in names for what in (*OUTCOMES, "ms")])
    for name in names:
        counts = {outcome: kept.get(_key(name, outcome), 0) for outcome in OUTCOMES}
        for outcome, count in counts.items():
            if count:
                ended.add_metric([name, outcome], count)
        if any(counts.values()):
            ran.add_metric([name], sum(counts.values()), kept.get(_key(name, "ms"), 0) / 1000)
    yield from (ended, ran)


def _key(task: str, what: str) -> str:
    return f"task-count:{task}:{what}"
