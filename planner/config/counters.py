"""What this process counts: requests answered and tasks ended."""

from prometheus_client import Counter, Histogram

METHODS = {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"}

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
