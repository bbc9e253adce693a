"""Plans: list, read, publish, drop."""

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.shapes import OddsAsked, OddsListShape, PlanPublish, PlanShape, VerdictShape
from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.selectors.nouns import Plan
from planner.selectors.plan_odds import plan_odds_get
from planner.selectors.plans import plan_breaches_get, plan_get, plan_list
from planner.services.plan_replays import plan_replay_ask
from planner.services.plans import plan_drop, plan_publish


class Plans(SiteView):
    """The plans of a site."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_list", responses=PlanShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """All plans but dropped drafts, newest first."""
        return self.page(plan_list(user=self.user, site=self.site), PlanShape)


class OnePlan(SiteView):
    """One plan."""

    actions = {"GET": Action.SITE_READ, "DELETE": Action.PLAN_BUILD}

    @extend_schema(operation_id="plan_get", responses=PlanShape)
    def get(self, request: Request, site: str, plan: int) -> Response:
        """One plan's figures."""
        return self.one(plan_of(self, plan), PlanShape)

    @extend_schema(operation_id="plan_drop", responses={204: None})
    def delete(self, request: Request, site: str, plan: int) -> Response:
        """Put a draft away; a published plan cannot be dropped."""
        row = plan_of(self, plan)
        self.refuse_unmatched(row, PlanShape)
        plan_drop(user=self.user, plan=row)
        return Response(status=204)


class PlanPublication(SiteView):
    """The publishing of one draft."""

    actions = {"POST": Action.PLAN_PUBLISH}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="plan_publish", request=PlanPublish, responses=PlanShape)
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Freeze the draft as the next numbered plan, where no other was published since."""
        row = plan_of(self, plan)
        self.refuse_unmatched(row, PlanShape)
        return self.one(plan_publish(user=self.user, plan=row, **self.sent(PlanPublish)), PlanShape)


class PlanText(SiteView):
    """What stands in a plan, as the very text that was verified."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_bay_plan", responses=OpenApiTypes.OBJECT)
    def get(self, request: Request, site: str, plan: int) -> HttpResponse:
        """The plan in the bay-plan format."""
        return HttpResponse(plan_of(self, plan).plan_json, content_type="application/json")


class PlanProblem(SiteView):
    """What a plan answers."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_problem", responses=OpenApiTypes.OBJECT)
    def get(self, request: Request, site: str, plan: int) -> HttpResponse:
        """The problem in the bay-problem format; its digest stands in the plan."""
        return HttpResponse(plan_of(self, plan).problem_json, content_type="application/json")


class PlanVerdict(SiteView):
    """The checker's word on a stored plan."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_verify", responses=VerdictShape)
    def get(self, request: Request, site: str, plan: int) -> Response:
        """Check every rule of the bay once more."""
        breaches = plan_breaches_get(plan=plan_of(self, plan))
        return self.one({"holds": not breaches, "breaches": breaches}, VerdictShape)


class PlanOdds(SiteView):
    """How likely each tyre is ready in time."""

    actions = {"GET": Action.SITE_READ, "POST": Action.SITE_READ}
    created = frozenset({"POST"})

    @extend_schema(operation_id="plan_odds", responses=OddsListShape)
    def get(self, request: Request, site: str, plan: int) -> Response:
        """What workers found who replayed the plan with durations that scatter; 404 while nobody has."""
        odds = plan_odds_get(plan=plan_of(self, plan))
        if odds is None:
            raise NotFoundError("the plan has no odds yet: ask for them by POST, then look again in a minute")
        return self.one(odds, OddsListShape)

    @extend_schema(operation_id="plan_odds_ask", request=None, responses={202: OddsAsked})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Have a worker replay the plan with the site's own spreads; nothing where it was."""
        return self.once(lambda: self._asked(plan))

    def _asked(self, plan: int) -> Response:
        row = plan_of(self, plan)
        plan_replay_ask(user=self.user, plan=row)
        return Response({"plan": row.pk}, status=202)


def plan_of(view: SiteView, plan: int) -> Plan:
    """The plan that the caller may see."""
    return plan_get(user=view.user, site=view.site, plan_id=plan)
