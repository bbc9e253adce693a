"""Prometheus metrics: requests here, the bay's own figures from whatever collectors are registered."""

import hmac
import os

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseForbidden
from django.views.decorators.http import require_safe
from prometheus_client import (
    CONTENT_TYPE_LATEST,
    REGISTRY,
    CollectorRegistry,
    Counter,
    Histogram,
    generate_latest,
)
from prometheus_client.multiprocess import MultiProcessCollector

METHODS = {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"}
LOOPBACK = {"127.0.0.1", "::1"}

REQUESTS = Counter(
    "tyrewright_requests_total",
    "Requests answered, by method, route and status",
    ["method", "route", "status"],
)
REQUEST_SECONDS = Histogram("tyrewright_request_seconds", "Time to answer a request [s]", ["method", "route"])
TASKS = Counter("tyrewright_tasks_total", "Background tasks ended, by name and outcome", ["task", "outcome"])
TASK_SECONDS = Histogram(
    "tyrewright_task_seconds",
    "Time a background task ran [s]",
    ["task"],
    buckets=(0.1, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600),
)


def request_count(*, method: str, route: str, status: int, seconds: float) -> None:
    """Count one answered request; an invented method counts as `other`, so that labels stay few."""
    method = method if method in METHODS else "other"
    REQUESTS.labels(method, route, str(status)).inc()
    REQUEST_SECONDS.labels(method, route).observe(seconds)


@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """Every figure, for the scraper that bears the token or stands on this machine."""
    if not _may_read(request):
        return HttpResponseForbidden("The metrics need their token.", content_type="text/plain")
    return HttpResponse(generate_latest(_registry()), content_type=CONTENT_TYPE_LATEST)


def _may_read(request: HttpRequest) -> bool:
    if not settings.METRICS_TOKEN:
        return request.META.get("REMOTE_ADDR") in LOOPBACK
    expected = f"Bearer {settings.METRICS_TOKEN}"
    return hmac.compare_digest(request.headers.get("Authorization", "").encode(), expected.encode())


def _registry() -> CollectorRegistry:
    """The figures of this process, or those of every web process when they share a folder."""
    if "PROMETHEUS_MULTIPROC_DIR" not in os.environ:
        return REGISTRY
    registry = CollectorRegistry()
    MultiProcessCollector(registry)  # type: ignore[no-untyped-call]
    return registry
