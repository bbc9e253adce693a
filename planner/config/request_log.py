"""Each request gets an id, one log line and its place in the metrics."""

import logging
import re
import time
import uuid
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from planner.config.counters import request_count
from planner.config.log_format import REQUEST_ID

logger = logging.getLogger("tyrewright.request")
REQUEST_ID_SHAPE = re.compile(r"[A-Za-z0-9-]{8,64}")


class RequestLogMiddleware:
    """Outermost of all, so that what the others answer is counted too."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request under an id that its log lines, its tasks and its answer carry."""
        started = time.monotonic()
        request_id = _request_id(request)
        token = REQUEST_ID.set(request_id)
        try:
            response = self.get_response(request)
            response["X-Request-ID"] = request_id
            _record(request, response.status_code, time.monotonic() - started)
            return response
        finally:
            REQUEST_ID.reset(token)


def _request_id(request: HttpRequest) -> str:
    """The id that the proxy gave, when it has a harmless shape, or a new one."""
    given = request.headers.get("X-Request-ID", "")
    return given if REQUEST_ID_SHAPE.fullmatch(given) else uuid.uuid4().hex


def _record(request: HttpRequest, status: int, seconds: float) -> None:
    """Log and count by route, never by path: a path can hold an id, or what somebody typed."""
    route = request.resolver_match.route if request.resolver_match else "none"
    user = getattr(request, "user", None)
    request_count(method=request.method or "", route=route, status=status, seconds=seconds)
    logger.info(
        "request",
        extra={
            "method": request.method,
            "route": route,
            "status": status,
            "milliseconds": round(seconds * 1000),
            "user_id": getattr(user, "pk", None),
        },
    )
