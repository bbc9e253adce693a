"""Prometheus metrics: requests and tasks as counted, the bay's own figures read from the database."""

import hmac
import logging
import os

from django.conf import settings
from django.db import DatabaseError
from django.http import HttpRequest, HttpResponse, HttpResponseForbidden
from django.views.decorators.http import require_safe
from prometheus_client import (
    CONTENT_TYPE_LATEST,
    REGISTRY,
    CollectorRegistry,
    generate_latest,
)
from prometheus_client.multiprocess import MultiProcessCollector

from planner.config.bay_figures import bay_registry

logger = logging.getLogger("tyrewright.metrics")
LOOPBACK = {"127.0.0.1", "::1"}


@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """Every figure, for the scraper that bears the token or stands on this machine."""
    if not _may_read(request):
        return HttpResponseForbidden("The metrics need their token.", content_type="text/plain")
    return HttpResponse(generate_latest(_registry()) + _of_the_bay(), content_type=CONTENT_TYPE_LATEST)


def _of_the_bay() -> bytes:
    """A lost database takes these away, and leaves what is counted here."""
    try:
        return generate_latest(bay_registry())
    except DatabaseError:
        logger.exception("figures of the bay")
        return b""


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
