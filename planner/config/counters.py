"""What the web's processes count: requests answered."""

from prometheus_client import Counter, Histogram

METHODS = {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"}

REQUESTS = Counter(
    "tyrewright_requests_total",
    "Requests answered, by method, route and status",
    ["method", "route", "status"],
)
REQUEST_SECONDS = Histogram("tyrewright_request_seconds", "Time to answer a request [s]", ["method", "route"])


def request_count(*, method: str, route: str, status: int, seconds: float) -> None:
    """Count one answered request; an invented method counts as `other`, so that labels stay few."""
    method = method if method in METHODS else "other"
    REQUESTS.labels(method, route, str(status)).inc()
    REQUEST_SECONDS.labels(method, route).observe(seconds)
