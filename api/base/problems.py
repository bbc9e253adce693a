"""One shape for every error: problem details of RFC 9457, with the faults that were found."""

import json
import logging
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse
from django.views.defaults import server_error as page_of_server_error
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import exception_handler, set_rollback

from planner.domain.errors import (
    ChangedMeanwhileError,
    ConflictError,
    NotAllowedError,
    NotFoundError,
    TyrewrightError,
    UserError,
)
from planner.domain.states import WrongStateError
from planner.services.plan_guard import PlanBreaksError

MEDIA_TYPE = "application/problem+json"
_OURS = "Something went wrong on our side; it was logged."
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing to mend; `place` is the field, or the place in a file; empty for the whole."""

    place: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """An error as it is answered; `code` is a short word for programs, `detail` a sentence for people."""

    status: int
    code: str
    detail: str
    faults: tuple[Fault, ...] = ()
    more: Mapping[str, Any] = field(default_factory=dict)

    def response(self, headers: Mapping[str, str] | None = None) -> Response:
        """The problem as a response."""
        return Response(self.body(), status=self.status, headers=headers, content_type=MEDIA_TYPE)

    def body(self) -> dict[str, Any]:
        """Its members."""
        return {
            "type": "about:blank",
            "title": HTTPStatus(self.status).phrase,
            "status": self.status,
            "code": self.code,
            "detail": self.detail,
            "faults": [asdict(fault) for fault in self.faults],
            **self.more,
        }


class PreconditionRequiredError(UserError):
    """A change of a thing that exists came without `If-Match`."""


class TooLargeError(UserError):
    """The body is larger than is taken."""


_STATUSES: tuple[tuple[type[UserError], int, str], ...] = (
    (NotFoundError, 404, "not_found"),
    (NotAllowedError, 403, "not_allowed"),
    (ChangedMeanwhileError, 412, "changed_meanwhile"),
    (PreconditionRequiredError, 428, "if_match_required"),
    (TooLargeError, 413, "too_large"),
    (WrongStateError, 409, "wrong_state"),
    (PlanBreaksError, 409, "breaks_plan"),
    (ConflictError, 409, "conflict"),
    (UserError, 422, "refused"),
)


def server_error(request: HttpRequest) -> HttpResponse:
    """What is answered to a fault of ours that no view foresaw: a problem under the API, else a page."""
    if not request.path.startswith("/api/"):
        return page_of_server_error(request)
    problem = Problem(status=500, code="internal", detail=_OURS)
    return HttpResponse(json.dumps(problem.body()), status=500, content_type=MEDIA_TYPE)


def problem_response(error: Exception, context: dict[str, Any]) -> Response | None:
    """Answer an error that reached a view; None lets a fault of ours become a logged 500."""
    if isinstance(error, TyrewrightError):
        set_rollback()
        return _of_ours(error).response()
    if isinstance(error, RequestDataTooBig):
        return problem_response(TooLargeError("the body is larger than is taken here"), context)
    if isinstance(error, SuspiciousOperation):
        return problem_response(exceptions.ParseError(str(error)), context)
    return _of_framework(error, context)


def _of_ours(error: TyrewrightError) -> Problem:
    for kind, status, code in _STATUSES:
        if isinstance(error, kind):
            return Problem(status=status, code=code, detail=str(error), faults=tuple(_faults_of(error)))
    _log.error("a fault of ours: %s", error, exc_info=error)
    return Problem(status=500, code="internal", detail=_OURS)


def _faults_of(error: TyrewrightError) -> Iterator[Fault]:
    for fault in getattr(error, "faults", ()):
        yield Fault(place=fault.place, message=fault.message)
    for breach in getattr(error, "breaches", ()):
        yield Fault(place="", message=str(breach))


def _of_framework(error: Exception, context: dict[str, Any]) -> Response | None:
    answered = exception_handler(error, context)
    if answered is None:
        return None
    if isinstance(error, exceptions.ValidationError):
        faults = tuple(_faults_in(error.detail, ""))
        detail = "; ".join(f"{fault.place}: {fault.message}" for fault in faults[:5])
        return Problem(status=422, code="invalid", detail=detail, faults=faults).response()
    if isinstance(error, Http404):
        code, detail = "not_found", "there is nothing at this address"
    elif isinstance(error, PermissionDenied):
        code, detail = "not_allowed", "you may not do this"
    else:
        code, detail = str(getattr(error, "default_code", "error")), str(getattr(error, "detail", error))
    headers = {name: answered[name] for name in ("WWW-Authenticate", "Retry-After") if name in answered}
    return Problem(status=answered.status_code, code=code, detail=detail).response(headers)


def _faults_in(detail: Any, place: str) -> Iterator[Fault]:
    """Every message in the nested errors of a serializer, each with the place of its field."""
    if isinstance(detail, Mapping):
        for name, inner in detail.items():
            step = "" if name == "non_field_errors" else str(name)
            yield from _faults_in(inner, ".".join(part for part in (place, step) if part))
    elif isinstance(detail, list):
        for index, inner in enumerate(detail):
            nested = isinstance(inner, Mapping | list)
            yield from _faults_in(inner, f"{place}[{index}]" if nested else place)
    else:
        yield Fault(place=place, message=str(detail))
