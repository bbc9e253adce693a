"""The record of a repair: read as it stands or as it was signed, inspected, signed, corrected."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.work_orders.views import order_of
from planner.domain.permissions import Action
from planner.selectors.order_cures import order_cure_list
from planner.selectors.repair_records import repair_record_get
from planner.services.inspections import inspection_record
from planner.services.repair_records import record_correct, record_sign


class RecordVersionShape(serializers.Serializer[Any]):
    """One signed version; `reason` is empty in the first."""

    number = serializers.IntegerField()
    content_sha256 = serializers.CharField()
    reason = serializers.CharField()
    signed_at = serializers.DateTimeField()
    signed_by = serializers.CharField(source="signed_by.username")


class RecordShape(serializers.Serializer[Any]):
    """A record; `version` is null for the draft, `lacks` says what stands between it and a signature."""

    version = serializers.IntegerField(source="version.number", allow_null=True, default=None)
    outdated = serializers.BooleanField(help_text="something on file changed since the last signature")
    lacks = serializers.ListField(child=serializers.CharField())
    versions = RecordVersionShape(many=True)
    content = serializers.DictField()


class RecordSearch(serializers.Serializer[Any]):
    """Which version: 0 for the draft; the last one signed where none is named."""

    version = serializers.IntegerField(required=False, min_value=0, max_value=100_000)


class RecordSign(serializers.Serializer[Any]):
    """Why the record is corrected; left out at the first signature."""

    reason = serializers.CharField(required=False, allow_blank=True, max_length=300)


class InspectionTell(serializers.Serializer[Any]):
    """What a person looked at and how it was, and whether the repair is released."""

    released = serializers.BooleanField()
    found = serializers.CharField(max_length=300)


class InspectionShape(serializers.Serializer[Any]):
    """An inspection; a later one stands beside it."""

    id = serializers.IntegerField()
    released = serializers.BooleanField()
    found = serializers.CharField()
    inspected_at = serializers.DateTimeField()
    inspected_by = serializers.CharField(source="inspected_by.username")


class CureFiguresShape(serializers.Serializer[Any]):
    """Minutes of a cure [min], its energy [kWh]; `timed_min` is the chart's, null off it: ask the maker."""

    heat_up_min = serializers.IntegerField()
    timed_min = serializers.IntegerField(allow_null=True)
    cool_down_min = serializers.IntegerField()
    model_min = serializers.IntegerField(help_text="of the model, which never changes the chart's")
    rubber_kwh = serializers.FloatField(help_text="by the model, until the pads go off")
    pads_kwh = serializers.FloatField(help_text="to heat the pads")
    losses_kwh = serializers.FloatField(help_text="lost to the bay")
    verdict = serializers.CharField(allow_blank=True)
    message = serializers.CharField(allow_blank=True)


class OrderCureShape(serializers.Serializer[Any]):
    """One injury's cure as it stands now; null figures: the site has no chart for it."""

    job = serializers.CharField(source="job_id")
    damage = serializers.IntegerField(source="damage.pk")
    provisional = serializers.BooleanField(help_text="the injury was guessed from outside")
    figures = CureFiguresShape(allow_null=True)


class Record(SiteView):
    """The record of one repair."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="record_get", parameters=[RecordSearch], responses=RecordShape)
    def get(self, request: Request, site: str, number: int) -> Response:
        """The version asked for, the last one signed, or the draft."""
        version = self.asked(RecordSearch).get("version")
        record = repair_record_get(user=self.user, order=order_of(self, number), number=version)
        return self.one(record, RecordShape)


class RecordSignatures(SiteView):
    """Signatures of one record."""

    actions = {"POST": Action.WORK_ORDER_DECIDE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="record_sign", request=RecordSign, responses={201: RecordShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Sign the draft as it was read (`?version=0`), with a reason where it corrects a signed version."""
        order = order_of(self, number)
        self.refuse_unmatched(repair_record_get(user=self.user, order=order, number=0), RecordShape)
        reason = self.sent(RecordSign).get("reason", "")
        if reason:
            record_correct(user=self.user, work_order=order, reason=reason)
        else:
            record_sign(user=self.user, work_order=order)
        return self.one(repair_record_get(user=self.user, order=order), RecordShape, status=201)


class Inspections(SiteView):
    """Inspections of one repair."""

    actions = {"POST": Action.WORK_ORDER_DECIDE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="inspection_record", request=InspectionTell, responses={201: InspectionShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Record what was found. Licensed practice decides whether a tyre may go back into service."""
        return self.once(lambda: self._recorded(number))

    def _recorded(self, number: int) -> Response:
        order = order_of(self, number)
        row = inspection_record(user=self.user, work_order=order, **self.sent(InspectionTell))
        return self.one(row, InspectionShape, status=201)


class OrderCures(SiteView):
    """The cures of one order."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="order_cure_list", responses=OrderCureShape(many=True))
    def get(self, request: Request, site: str, number: int) -> Response:
        """What the chart and the model say of each injury's cure."""
        return self.page(order_cure_list(order=order_of(self, number)), OrderCureShape)
