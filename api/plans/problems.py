"""Bay problems from elsewhere: read and checked, nothing stored."""

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.shapes import ProblemVerdictShape
from planner.domain.permissions import Action
from planner.services.problem_check import problem_check


class ProblemCheck(SiteView):
    """The reader's word on a bay problem."""

    actions = {"POST": Action.SITE_READ}

    @extend_schema(operation_id="problem_check", request=OpenApiTypes.OBJECT, responses=ProblemVerdictShape)
    def post(self, request: Request, site: str) -> Response:
        """Read a bay problem; 422 names every fault with its place. Nothing is stored."""
        # The text as it was sent: its own reader names faults, such as a name twice, that a parser hides.
        return self.one(problem_check(raw=request._request.body), ProblemVerdictShape)
