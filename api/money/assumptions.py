"""Assumptions: proposed, accepted, refused."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from planner.domain.permissions import Action
from planner.selectors.accounts.assumptions import assumption_get, assumption_list, assumption_names
from planner.services.accounts.assumptions import assumption_accept, assumption_propose, assumption_refuse


class AssumptionShape(serializers.Serializer[Any]):
    """One dated version of one assumption."""

    id = serializers.IntegerField()
    version = serializers.IntegerField()
    name = serializers.CharField()
    value = serializers.DecimalField(max_digits=16, decimal_places=6)
    effective_from = serializers.DateField()
    reason = serializers.CharField()
    state = serializers.CharField()
    author = serializers.CharField(source="author.username")
    decided_by = serializers.CharField(source="decided_by.username", default=None, allow_null=True)
    decided_at = serializers.DateTimeField(allow_null=True)


class AssumptionPropose(serializers.Serializer[Any]):
    """A new version, with who told it or what it was worked out from."""

    name = serializers.ChoiceField(choices=list(assumption_names()))
    value = serializers.DecimalField(max_digits=16, decimal_places=6)
    effective_from = serializers.DateField()
    reason = serializers.CharField(max_length=300)


class AssumptionDecide(serializers.Serializer[Any]):
    """A signed decision; a refusal needs its reason."""

    accepted = serializers.BooleanField()
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class Assumptions(SiteView):
    """The assumptions of a site."""

    actions = {"GET": Action.MONEY_READ, "POST": Action.MONEY_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="assumption_list", responses=AssumptionShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """Every version on file, by name, the latest first."""
        return self.page(assumption_list(user=self.user, site=self.site), AssumptionShape)

    @extend_schema(
        operation_id="assumption_propose", request=AssumptionPropose, responses={201: AssumptionShape}
    )
    def post(self, request: Request, site: str) -> Response:
        """Put a new version up for acceptance; nothing changes yet."""
        return self.once(self._proposed)

    def _proposed(self) -> Response:
        values = self.sent(AssumptionPropose)
        name = assumption_names()[values.pop("name")]
        row = assumption_propose(user=self.user, site=self.site, name=name, **values)
        return self.one(row, AssumptionShape, status=201)


class OneAssumption(SiteView):
    """One version of an assumption."""

    actions = {"GET": Action.MONEY_READ, "PATCH": Action.MONEY_CHANGE}

    @extend_schema(operation_id="assumption_get", responses=AssumptionShape)
    def get(self, request: Request, site: str, assumption: int) -> Response:
        """One version."""
        return self.one(assumption_get(user=self.user, site=self.site, pk=assumption), AssumptionShape)

    @extend_schema(operation_id="assumption_decide", request=AssumptionDecide, responses=AssumptionShape)
    def patch(self, request: Request, site: str, assumption: int) -> Response:
        """Accept or refuse a proposed version, under the caller's name."""
        row = assumption_get(user=self.user, site=self.site, pk=assumption)
        self.refuse_unmatched(row, AssumptionShape)
        values = self.sent(AssumptionDecide)
        decide = assumption_accept if values["accepted"] else assumption_refuse
        decide(user=self.user, assumption=row, why=values["why"])
        return self.one(row, AssumptionShape)
