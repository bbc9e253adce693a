"""Why tyres are left out or late, and what the published plan promises."""

from dataclasses import asdict
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.views import plan_of
from planner.domain.permissions import Action
from planner.selectors.late_reasons import late_reasons_get
from planner.selectors.plan_odds import order_odds_map_get
from planner.selectors.plan_promises import promise_map_get
from planner.selectors.plans import plan_content_get, plan_published_get


class WhyShape(serializers.Serializer[Any]):
    """One true cause in plain words, with the figures behind it."""

    code = serializers.CharField()
    message = serializers.CharField()
    figures = serializers.DictField()


class JobReasonsShape(serializers.Serializer[Any]):
    """A job and its causes."""

    job = serializers.CharField()
    reasons = WhyShape(many=True)


class ReasonsShape(serializers.Serializer[Any]):
    """Jobs that are left out, and planned ones that are late."""

    left_out = JobReasonsShape(many=True)
    late = JobReasonsShape(many=True)


class PromiseShape(serializers.Serializer[Any]):
    """When a tyre is ready by the published plan, and how likely in time; null: left out, or no odds yet."""

    work_order = serializers.CharField()
    ready_at = serializers.DateTimeField(allow_null=True)
    minutes_late = serializers.IntegerField()
    reasons = WhyShape(many=True)
    in_time = serializers.FloatField(allow_null=True)
    p50 = serializers.DateTimeField(allow_null=True)
    p90 = serializers.DateTimeField(allow_null=True)


class PlanReasons(SiteView):
    """Why one plan lacks what it lacks."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_reasons", responses=ReasonsShape)
    def get(self, request: Request, site: str, plan: int) -> Response:
        """The causes of each job that is left out or late."""
        row = plan_of(self, plan)
        late = [{"job": job, "reasons": causes} for job, causes in late_reasons_get(plan=row).items()]
        return self.one({"left_out": plan_content_get(plan=row).plan.unplanned, "late": late}, ReasonsShape)


class Promises(SiteView):
    """What the plan that holds promises."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="promise_list", responses=PromiseShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """Each work order of the published plan; none while nothing is published."""
        plan = plan_published_get(user=self.user, site=self.site)
        odds = order_odds_map_get(plan=plan)
        rows = [
            {**asdict(promise), "reasons": promise.reasons, "work_order": code, **_odds_words(odds.get(code))}
            for code, promise in sorted(promise_map_get(plan=plan).items())
        ]
        return self.page(rows, PromiseShape)


def _odds_words(odds: Any) -> dict[str, Any]:
    return {name: getattr(odds, name, None) for name in ("in_time", "p50", "p90")}
