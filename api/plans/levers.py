"""What would help a plan: every lever of the bay, tried by workers."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.plans.views import plan_of
from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.selectors.lever_answers import lever_question_get, lever_trial_list
from planner.selectors.nouns import LeverQuestion, Plan
from planner.services.lever_questions import levers_ask, levers_cancel


class LeverTrialShape(serializers.Serializer[Any]):
    """One lever's trial; gains [priority-weighted min, tyres] are beside searching on without any change."""

    lever = serializers.CharField()
    words = serializers.CharField()
    state = serializers.CharField()
    lateness = serializers.IntegerField(allow_null=True)
    tyres_in_time = serializers.IntegerField(allow_null=True)
    lateness_gain = serializers.IntegerField(allow_null=True)
    tyres_gain = serializers.IntegerField(allow_null=True)
    gap = serializers.IntegerField(allow_null=True, help_text="what its own plan may still lack")
    within_noise = serializers.BooleanField()


class LeverQuestionShape(serializers.Serializer[Any]):
    """One asking, with what was tried so far: what buys most first."""

    id = serializers.IntegerField()
    state = serializers.CharField()
    asked_at = serializers.DateTimeField()
    asked_by = serializers.CharField(source="asked_by.username")
    seconds = serializers.IntegerField(help_text="for each lever")
    trials = serializers.SerializerMethodField()

    @extend_schema_field(LeverTrialShape(many=True))
    def get_trials(self, question: LeverQuestion) -> Any:
        """The trials."""
        return LeverTrialShape(lever_trial_list(question=question), many=True).data


class LeversAsk(serializers.Serializer[Any]):
    """How long each lever may be searched [s]."""

    seconds = serializers.IntegerField(min_value=1, max_value=120, default=8)


class PlanLevers(SiteView):
    """What would help one plan."""

    actions = {"GET": Action.SITE_READ, "POST": Action.PLAN_BUILD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="lever_list", responses=LeverQuestionShape)
    def get(self, request: Request, site: str, plan: int) -> Response:
        """The newest asking with its trials; 404 where nobody asked."""
        return self.one(question_of(self, plan_of(self, plan)), LeverQuestionShape)

    @extend_schema(operation_id="lever_ask", request=LeversAsk, responses={201: LeverQuestionShape})
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Have workers try every lever; an asking that is open is given back."""
        return self.once(lambda: self._asked(plan_of(self, plan)))

    def _asked(self, plan: Plan) -> Response:
        levers_ask(user=self.user, plan=plan, **self.sent(LeversAsk))
        return self.one(question_of(self, plan), LeverQuestionShape, status=201)


class PlanLeversCancel(SiteView):
    """The end of an asking before its time."""

    actions = {"POST": Action.PLAN_BUILD}

    @extend_schema(operation_id="lever_cancel", request=None, responses=LeverQuestionShape)
    def post(self, request: Request, site: str, plan: int) -> Response:
        """Try no more; what was found stays. Its progress moves, so no If-Match is asked for."""
        row = plan_of(self, plan)
        levers_cancel(user=self.user, question=question_of(self, row))
        return self.one(question_of(self, row), LeverQuestionShape)


def question_of(view: SiteView, plan: Plan) -> LeverQuestion:
    """The newest asking about a plan; NotFoundError where nobody asked."""
    question = lever_question_get(user=view.user, plan=plan)
    if question is None:
        raise NotFoundError("nobody has asked yet what would help this plan")
    return question
