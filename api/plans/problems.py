"""Bay problems from elsewhere: read and checked, nothing stored."""

from collections.abc import Mapping
from typing import IO, Any, cast

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.parsers import BaseParser
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.shapes import ProblemVerdictShape
from planner.domain.permissions import Action
from planner.services.problem_check import problem_check


class AsSent(BaseParser):
    """The JSON text as it was sent: the reader of bay problems names faults that a parser would hide."""

    media_type = "application/json"

    def parse(
        self,
        stream: IO[bytes],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> dict[str, Any]:
        """The bytes under one name."""
        return {"raw": stream.read()}


class ProblemCheck(SiteView):
    """The reader's word on a bay problem."""

    actions = {"POST": Action.SITE_READ}
    parser_classes = [AsSent]

    @extend_schema(operation_id="problem_check", request=OpenApiTypes.OBJECT, responses=ProblemVerdictShape)
    def post(self, request: Request, site: str) -> Response:
        """Read a bay problem; 422 names every fault with its place. Nothing is stored."""
        return self.one(problem_check(raw=cast(dict[str, bytes], request.data)["raw"]), ProblemVerdictShape)
