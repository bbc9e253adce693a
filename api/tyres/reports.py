"""A damaged tyre told in one go."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.tyres.shapes import DamageRecord
from api.work_orders.shapes import WorkOrderShape
from planner.domain.injury import Injury, Zone
from planner.domain.permissions import Action
from planner.services.damage_registration import DamageReport, damage_register

_SIZES = ("length_mm", "width_mm", "depth_mm", "plies")


class ReportTell(DamageRecord):
    """The tyre, its injury and when it is needed; `demounted`: it is off its machine and cold."""

    serial = serializers.CharField(max_length=60)
    size_as_written = serializers.CharField(max_length=60)
    needed_by = serializers.DateTimeField()
    machine = serializers.IntegerField(required=False, min_value=1, max_value=999_999_999)
    demounted = serializers.BooleanField(default=False)


class DamageReports(SiteView):
    """Damaged tyres that come in."""

    actions = {"POST": Action.WORK_ORDER_RECEIVE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="damage_register", request=ReportTell, responses={201: WorkOrderShape})
    def post(self, request: Request, site: str) -> Response:
        """Put tyre, injury and work order on record, or nothing of it."""
        return self.once(self._registered)

    def _registered(self) -> Response:
        order = damage_register(user=self.user, site=self.site, report=_report(self.sent(ReportTell)))
        return self.one(order, WorkOrderShape, status=201)


def _report(told: dict[str, Any]) -> DamageReport:
    sizes = {name: told.pop(name) for name in _SIZES}
    return DamageReport(
        injury=Injury(zone=Zone(told.pop("zone")), **sizes), machine_id=told.pop("machine", None), **told
    )
