"""What a site assumes of how long a size's tyres stay on, for want of its own records."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from planner.domain.permissions import Action
from planner.selectors.removal_rates import removal_assumption_list
from planner.services.removal_assumptions import removal_assumption_add, removal_assumption_change


class RemovalAssumptionShape(serializers.Serializer[Any]):
    """Mean running hours until a tyre of the size comes off for damage or wear [h]."""

    id = serializers.IntegerField()
    version = serializers.IntegerField()
    size = serializers.CharField(help_text="the normal form, such as 27.00R49")
    hours = serializers.IntegerField()
    reason = serializers.CharField()


class RemovalAssumptionChange(serializers.Serializer[Any]):
    """The hours, and where the figure is from."""

    hours = serializers.IntegerField(min_value=10, max_value=100_000)
    reason = serializers.CharField(max_length=300)


class RemovalAssumptionAdd(RemovalAssumptionChange):
    """The same for a size as people write it."""

    size_as_written = serializers.CharField(max_length=60)


class RemovalAssumptions(SiteView):
    """The assumptions of a site."""

    actions = {"GET": Action.SITE_READ, "POST": Action.SPARES_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="removal_assumption_list", responses=RemovalAssumptionShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """All of them, by size."""
        return self.page(removal_assumption_list(user=self.user, site=self.site), RemovalAssumptionShape)

    @extend_schema(
        operation_id="removal_assume", request=RemovalAssumptionAdd, responses={201: RemovalAssumptionShape}
    )
    def post(self, request: Request, site: str) -> Response:
        """Assume something of a size; where it has an assumption already, 409: change that one."""
        return self.once(self._added)

    def _added(self) -> Response:
        row = removal_assumption_add(user=self.user, site=self.site, **self.sent(RemovalAssumptionAdd))
        return self.one(row, RemovalAssumptionShape, status=201)


class OneRemovalAssumption(SiteView):
    """The assumption of one size."""

    actions = {"GET": Action.SITE_READ, "PATCH": Action.SPARES_CHANGE}

    @extend_schema(operation_id="removal_assumption_get", responses=RemovalAssumptionShape)
    def get(self, request: Request, site: str, assumption: int) -> Response:
        """One of them."""
        rows = removal_assumption_list(user=self.user, site=self.site)
        return self.one(found(rows, pk=assumption), RemovalAssumptionShape)

    @extend_schema(
        operation_id="removal_assumption_change",
        request=RemovalAssumptionChange,
        responses=RemovalAssumptionShape,
    )
    def patch(self, request: Request, site: str, assumption: int) -> Response:
        """Assume other hours, with where they are from."""
        row = found(removal_assumption_list(user=self.user, site=self.site), pk=assumption)
        self.refuse_unmatched(row, RemovalAssumptionShape)
        removal_assumption_change(user=self.user, assumption=row, **self.sent(RemovalAssumptionChange))
        return self.one(row, RemovalAssumptionShape)
