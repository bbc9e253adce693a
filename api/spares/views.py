"""New tyres that are on order: ordered, put off or brought forward, arrived, called off."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView, found
from planner.domain.permissions import Action
from planner.selectors.nouns import TyreDelivery
from planner.selectors.tyre_deliveries import tyre_delivery_list
from planner.services import tyre_deliveries as services

_WRITES = dict.fromkeys(("POST", "PATCH", "DELETE"), Action.SPARES_CHANGE)


class TyreDeliveryShape(serializers.Serializer[Any]):
    """So many new tyres of a size; `arrived_on` once they are in the store."""

    id = serializers.IntegerField()
    size = serializers.CharField(help_text="the normal form, such as 27.00R49")
    quantity = serializers.IntegerField()
    expected_on = serializers.DateField()
    reference = serializers.CharField(allow_blank=True)
    arrived_on = serializers.DateField(allow_null=True)


class TyreDeliveryOrder(serializers.Serializer[Any]):
    """What is ordered, and the day on which it is expected."""

    size_as_written = serializers.CharField(max_length=60)
    quantity = serializers.IntegerField(min_value=1, max_value=500)
    expected_on = serializers.DateField()
    reference = serializers.CharField(max_length=60, allow_blank=True, default="")


class TyreDeliveryDate(serializers.Serializer[Any]):
    """Another day, and why."""

    expected_on = serializers.DateField()
    why = serializers.CharField(max_length=300, allow_blank=True, default="")


class DeliveryView(SiteView):
    """What needs a delivery by its number."""

    def delivery_of(self, delivery: int) -> TyreDelivery:
        """The one with this number; NotFoundError else."""
        return found(tyre_delivery_list(user=self.user, site=self.site), pk=delivery)


class TyreDeliveries(SiteView):
    """The deliveries of a site."""

    actions = {"GET": Action.SITE_READ, **_WRITES}
    created = frozenset({"POST"})

    @extend_schema(operation_id="tyre_delivery_list", responses=TyreDeliveryShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """All of them, those that arrived among them, the soonest first."""
        return self.page(tyre_delivery_list(user=self.user, site=self.site), TyreDeliveryShape)

    @extend_schema(
        operation_id="tyre_delivery_order", request=TyreDeliveryOrder, responses={201: TyreDeliveryShape}
    )
    def post(self, request: Request, site: str) -> Response:
        """Put new tyres on order."""
        return self.once(self._ordered)

    def _ordered(self) -> Response:
        row = services.tyre_delivery_order(user=self.user, site=self.site, **self.sent(TyreDeliveryOrder))
        return self.one(row, TyreDeliveryShape, status=201)


class OneTyreDelivery(DeliveryView):
    """One delivery."""

    actions = {"GET": Action.SITE_READ, **_WRITES}

    @extend_schema(operation_id="tyre_delivery_get", responses=TyreDeliveryShape)
    def get(self, request: Request, site: str, delivery: int) -> Response:
        """One of them."""
        return self.one(self.delivery_of(delivery), TyreDeliveryShape)

    @extend_schema(operation_id="tyre_delivery_date", request=TyreDeliveryDate, responses=TyreDeliveryShape)
    def patch(self, request: Request, site: str, delivery: int) -> Response:
        """Change the day on which it is expected."""
        self.refuse_unmatched(self.delivery_of(delivery), TyreDeliveryShape)
        values = self.sent(TyreDeliveryDate)
        services.tyre_delivery_date(user=self.user, site=self.site, delivery_id=delivery, **values)
        return self.one(self.delivery_of(delivery), TyreDeliveryShape)

    @extend_schema(operation_id="tyre_delivery_call_off", responses={204: None})
    def delete(self, request: Request, site: str, delivery: int) -> Response:
        """Take it off the list: it will not come."""
        self.refuse_unmatched(self.delivery_of(delivery), TyreDeliveryShape)
        services.tyre_delivery_call_off(user=self.user, site=self.site, delivery_id=delivery)
        return Response(status=204)


class TyreDeliveryReceipt(DeliveryView):
    """The arrival of one delivery."""

    actions = {"POST": Action.SPARES_CHANGE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="tyre_delivery_receive", request=None, responses=TyreDeliveryShape)
    def post(self, request: Request, site: str, delivery: int) -> Response:
        """Take the tyres into the store: they are on hand from now on."""
        self.refuse_unmatched(self.delivery_of(delivery), TyreDeliveryShape)
        services.tyre_delivery_receive(user=self.user, site=self.site, delivery_id=delivery)
        return self.one(self.delivery_of(delivery), TyreDeliveryShape)
