"""Schemathesis over the API in this process: requests made from the schema, answers held against it."""

from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import schemathesis
from django.core import signals
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections, transaction
from hypothesis import HealthCheck, Phase, given, seed, settings
from schemathesis.checks import CHECKS

from tests.lib.api_schema import api_schema

CHECKED = ("not_a_server_error", "status_code_conformance", "content_type_conformance",
           "response_headers_conformance", "response_schema_conformance", "missing_required_header",
           "unsupported_method")  # fmt: skip
"""Not `positive_data_acceptance` and `negative_data_rejection`: rules of the bay refuse much that a schema
cannot say, and a text "1" is read as the number. Sign-in is tried by the contract's own tests."""


class ApiAnswerError(AssertionError):
    """Every operation whose answers do not keep to the schema."""


def fuzz(secrets: tuple[str, ...], *, examples: int, number: int) -> Counter[int]:
    """Call every operation so many times with each token; the statuses. Nothing that is done stays."""
    schema = schemathesis.openapi.from_dict(api_schema())
    schema.app = get_wsgi_application()
    statuses: Counter[int] = Counter()
    failures: list[str] = []
    with _connection_kept():
        for result in schema.get_all_operations():
            operation: Any = result.ok()  # type: ignore[union-attr]  # the schema was validated
            for secret in secrets:
                attempt = _attempt(operation, secret, statuses, examples, number)
                failures += _failure_of(attempt, operation.label)
    if failures:
        raise ApiAnswerError("\n\n".join(failures))
    return statuses


def _attempt(
    operation: Any, secret: str, statuses: Counter[int], examples: int, number: int
) -> Callable[[], None]:
    """One operation with so many generated cases, reproducible by the number."""

    @seed(number)
    @settings(
        max_examples=examples, database=None, deadline=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(case=operation.as_strategy())
    def attempt(case: Any) -> None:
        _aim(case, secret, at_rows=sum(statuses.values()) % 2 == 0)
        with transaction.atomic():
            response = case.call()
            transaction.set_rollback(True)
        statuses[response.status_code] += 1
        case.validate_response(response, checks=CHECKS.get_by_names(list(CHECKED)))

    return attempt


def _aim(case: Any, secret: str, *, at_rows: bool) -> None:
    """Ask for the mine; every other time for its first rows, as they stand, so that more than 404 is met."""
    case.headers["Authorization"] = f"Bearer {secret}"
    for name in case.path_parameters:
        if name == "site":
            case.path_parameters[name] = "ridge"
        elif at_rows and name != "month":
            case.path_parameters[name] = 1
    if at_rows and "If-Match" in case.headers:
        case.headers["If-Match"] = "*"


def _failure_of(attempt: Callable[[], None], label: str) -> list[str]:
    try:
        attempt()
    except (
        Exception,
        BaseExceptionGroup,
    ) as fault:  # every operation is tried; what failed is raised at the end
        return [f"{label}: {fault}"]
    return []


@contextmanager
def _connection_kept() -> Iterator[None]:
    """The test's own database connection stays open from request to request."""
    for signal in (signals.request_started, signals.request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (signals.request_started, signals.request_finished):
        signal.connect(close_old_connections)
