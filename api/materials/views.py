"""What is left of each material, and what repairs took of it and of everything else."""

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.work_orders.views import order_of
from planner.domain.permissions import Action
from planner.selectors.accounts.uses import use_list
from planner.selectors.material_stock import lot_get, material_stock_list
from planner.services.accounts.costs import use_record
from planner.services.accounts.meters import meter_record
from planner.services.materials import material_use_record


class LotStockShape(serializers.Serializer[Any]):
    """A lot and what is left of it, in its material's unit."""

    id = serializers.IntegerField(source="lot.pk")
    code = serializers.CharField(source="lot.code")
    expires_on = serializers.DateField(source="lot.expires_on")
    left = serializers.DecimalField(max_digits=12, decimal_places=3)
    state = serializers.CharField()


class MaterialStockShape(serializers.Serializer[Any]):
    """A material with its lots, soonest date first; `usable` leaves out what has expired."""

    code = serializers.CharField(source="material.code")
    name = serializers.CharField(source="material.name")
    unit = serializers.CharField(source="material.unit")
    least_stock = serializers.DecimalField(source="material.least_stock", max_digits=12, decimal_places=3)
    usable = serializers.DecimalField(max_digits=12, decimal_places=3)
    short = serializers.BooleanField()
    lots = LotStockShape(many=True)


class UseShape(serializers.Serializer[Any]):
    """A quantity that a repair took, and what shows it."""

    kind = serializers.CharField()
    item = serializers.CharField()
    quantity = serializers.DecimalField(max_digits=16, decimal_places=4)
    unit = serializers.CharField()
    evidence = serializers.CharField()
    at = serializers.DateTimeField(allow_null=True)


class MaterialTake(serializers.Serializer[Any]):
    """From which lot, and how much in its material's unit."""

    lot = serializers.IntegerField(min_value=1, max_value=999_999_999)
    quantity = serializers.DecimalField(max_digits=9, decimal_places=3, min_value=0)


class MaterialTakenShape(serializers.Serializer[Any]):
    """What was taken."""

    id = serializers.IntegerField()
    lot = serializers.IntegerField(source="lot_id")
    quantity = serializers.DecimalField(max_digits=9, decimal_places=3)
    used_at = serializers.DateTimeField()
    used_by = serializers.CharField(source="used_by.username")


class MeterRead(serializers.Serializer[Any]):
    """The bay's meter before and after a repair [kWh]."""

    before = serializers.DecimalField(max_digits=12, decimal_places=3, min_value=0)
    after = serializers.DecimalField(max_digits=12, decimal_places=3, min_value=0)


class CountTell(serializers.Serializer[Any]):
    """So many trips or inspections."""

    kind = serializers.ChoiceField(choices=("transport", "inspection"))
    quantity = serializers.IntegerField(min_value=1, max_value=100)
    evidence = serializers.CharField(max_length=120, allow_blank=True, default="")


class CountedShape(serializers.Serializer[Any]):
    """What was metered or counted."""

    id = serializers.IntegerField()
    kind = serializers.CharField()
    item = serializers.CharField()
    quantity = serializers.DecimalField(max_digits=12, decimal_places=4)
    evidence = serializers.CharField()


class MaterialStockList(SiteView):
    """The store."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="material_stock_list", responses=MaterialStockShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """Every material that is kept, with what is left of its lots today."""
        today = timezone.localdate(timezone=self.zone)
        rows = material_stock_list(user=self.user, site=self.site, today=today)
        return self.page(rows, MaterialStockShape)


class OrderUses(SiteView):
    """What one repair took."""

    actions = {"GET": Action.SITE_READ}

    @extend_schema(operation_id="use_list", responses=UseShape(many=True))
    def get(self, request: Request, site: str, number: int) -> Response:
        """Everything on record: counted first, then from lots, the oldest first."""
        return self.page(use_list(user=self.user, work_order=order_of(self, number)), UseShape)


class OrderMaterials(SiteView):
    """Material that one repair takes."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="material_take", request=MaterialTake, responses={201: MaterialTakenShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Record what is taken from a lot; refused where it is expired or holds less."""
        return self.once(lambda: self._taken(number))

    def _taken(self, number: int) -> Response:
        order, values = order_of(self, number), self.sent(MaterialTake)
        lot = lot_get(user=self.user, site=self.site, lot_id=values["lot"])
        row = material_use_record(user=self.user, lot=lot, work_order=order, quantity=values["quantity"])
        return self.one(row, MaterialTakenShape, status=201)


class OrderMeter(SiteView):
    """Energy that one repair took."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="meter_record", request=MeterRead, responses={201: CountedShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Record two readings of the bay's meter as the energy between them."""
        return self.once(lambda: self._recorded(number))

    def _recorded(self, number: int) -> Response:
        row = meter_record(user=self.user, work_order=order_of(self, number), **self.sent(MeterRead))
        return self.one(row, CountedShape, status=201)


class OrderCounts(SiteView):
    """Trips and inspections of one repair."""

    actions = {"POST": Action.WORK_RECORD}
    created = frozenset({"POST"})

    @extend_schema(operation_id="use_count", request=CountTell, responses={201: CountedShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Record so many trips or inspections."""
        return self.once(lambda: self._recorded(number))

    def _recorded(self, number: int) -> Response:
        row = use_record(user=self.user, work_order=order_of(self, number), **self.sent(CountTell))
        return self.one(row, CountedShape, status=201)
