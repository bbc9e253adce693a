"""Logged cures of an injury: read, and signed by a person. Nothing here releases a cure."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.files import file_response
from api.base.views import SiteView, found
from api.tyres.damage import damages_of
from planner.domain.permissions import Action
from planner.selectors.cures import logged_cure_list
from planner.services.logged_cures import cure_decision_sign


class DecisionShape(serializers.Serializer[Any]):
    """A signed decision; a correction is the next number."""

    number = serializers.IntegerField()
    accepted = serializers.BooleanField()
    reason = serializers.CharField()
    signed_at = serializers.DateTimeField()
    signed_by = serializers.CharField(source="signed_by.username")


class LoggedCureShape(serializers.Serializer[Any]):
    """A logger's file as it was judged, and every decision on it."""

    id = serializers.IntegerField()
    file_name = serializers.CharField()
    file_sha256 = serializers.CharField()
    verdict = serializers.CharField()
    judgement = serializers.DictField()
    imported_at = serializers.DateTimeField()
    imported_by = serializers.CharField(source="imported_by.username")
    decisions = DecisionShape(many=True)


class DecisionSign(serializers.Serializer[Any]):
    """Whether a person accepts the cure, and why."""

    accepted = serializers.BooleanField()
    reason = serializers.CharField(max_length=300)


class LoggedCures(SiteView):
    """The logged cures of an injury."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="logged_cure_list", responses=LoggedCureShape(many=True))
    def get(self, request: Request, site: str, tyre: int, damage: int) -> Response:
        """The cures, first to last, without the files themselves."""
        injury = found(damages_of(self, tyre), pk=damage)
        return self.page(logged_cure_list(user=self.user, damage=injury), LoggedCureShape)


class LoggedCureFile(SiteView):
    """The file of one logged cure."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(
        operation_id="logged_cure_file", responses={(200, "application/octet-stream"): OpenApiTypes.BINARY}
    )
    def get(self, request: Request, site: str, tyre: int, damage: int, cure: int) -> HttpResponse:
        """The very bytes that were judged."""
        injury = found(damages_of(self, tyre), pk=damage)
        row = found(logged_cure_list(user=self.user, damage=injury), pk=cure)
        kind = "application/octet-stream"
        return file_response(bytes(row.file_raw), name=f"cure-log-{row.pk}", kind=kind)


class OneLoggedCure(SiteView):
    """One logged cure."""

    actions = {"GET": Action.SITE_READ, "PATCH": Action.WORK_ORDER_DECIDE}

    @extend_schema(operation_id="logged_cure_get", responses=LoggedCureShape)
    def get(self, request: Request, site: str, tyre: int, damage: int, cure: int) -> Response:
        """One cure with its verdict."""
        injury = found(damages_of(self, tyre), pk=damage)
        row = found(logged_cure_list(user=self.user, damage=injury), pk=cure)
        return self.one(row, LoggedCureShape)

    @extend_schema(operation_id="cure_decision_sign", request=DecisionSign, responses=LoggedCureShape)
    def patch(self, request: Request, site: str, tyre: int, damage: int, cure: int) -> Response:
        """Sign a decision under the caller's name; earlier ones stand beside it."""
        injury = found(damages_of(self, tyre), pk=damage)
        row = found(logged_cure_list(user=self.user, damage=injury), pk=cure)
        self.refuse_unmatched(row, LoggedCureShape)
        cure_decision_sign(user=self.user, logged_cure=row, **self.sent(DecisionSign))
        signed = found(logged_cure_list(user=self.user, damage=injury), pk=cure)
        return self.one(signed, LoggedCureShape)
