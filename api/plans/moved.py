"""What a plan moves against the published one, and why."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.reasons import WhyShape
from api.plans.views import plan_of
from planner.domain.permissions import Action
from planner.selectors.plan_moves import plan_moves_get


class StageMoveShape(serializers.Serializer[Any]):
    """One stage at another time or in other hands; no stage: the whole job comes or goes."""

    stage = serializers.CharField(allow_null=True)
    minutes = serializers.IntegerField(help_text="how much later it starts; less than 0: earlier")
    changes = serializers.ListField(child=serializers.CharField())


class MovedJobShape(serializers.Serializer[Any]):
    """A job that stands otherwise than published; its ends in minutes of the horizon, null: left out."""

    job = serializers.CharField()
    ready_before = serializers.IntegerField(allow_null=True)
    ready_now = serializers.IntegerField(allow_null=True)
    moves = StageMoveShape(many=True)
    reason = WhyShape()


class PlanMoved(SiteView):
    """What publishing the plan would move."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="plan_moved", responses=MovedJobShape(many=True))
    def get(self, request: Request, site: str, plan: int) -> Response:
        """Every job that moves, with the one thing that moves it; none where nothing else is published."""
        return self.page(list(plan_moves_get(user=self.user, plan=plan_of(self, plan))), MovedJobShape)
