"""Whether the process is alive, and whether it may be sent work."""

import logging
from collections.abc import Callable

from celery import current_app
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_safe

logger = logging.getLogger("tyrewright.health")


@require_safe
def healthz(_request: HttpRequest) -> HttpResponse:
    """Alive: touches nothing else, so that a lost database does not restart every web process."""
    return JsonResponse({"status": "ok"})


@require_safe
def readyz(_request: HttpRequest) -> HttpResponse:
    """Ready: the database answers and is migrated, and the queue takes work; 503 names what is not."""
    found = {name: _try(name, check) for name, check in CHECKS.items()}
    ready = all(word == "ok" for word in found.values())
    body = {"status": "ok" if ready else "not ready", "checks": found}
    return JsonResponse(body, status=200 if ready else 503)


def _try(name: str, check: Callable[[], str]) -> str:
    """Run a check; the reason goes to the log, since a stranger can read the answer."""
    try:
        return check()
    except Exception:
        logger.exception("readiness: %s", name)
        return "unreachable"


def _database() -> str:
    executor = MigrationExecutor(connection)
    pending = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return "migrations are pending" if pending else "ok"


def _queue() -> str:
    with current_app.connection_for_write() as broker:
        broker.ensure_connection(max_retries=1, interval_start=0, timeout=2)
    return "ok"


CHECKS: dict[str, Callable[[], str]] = {"database": _database, "queue": _queue}
