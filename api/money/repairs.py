"""Booked repairs: listed, opened to their entries, exported; and the booking of what has ended."""

from datetime import date
from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.files import file_response
from api.base.views import SiteView
from api.money.shapes import MoneyShape
from planner.domain.injury import Zone
from planner.domain.permissions import Action
from planner.selectors.accounts.repairs import RepairFilter, repair_books_get, repair_list, repair_row
from planner.selectors.accounts.spreadsheet import repairs_csv, repairs_xlsx
from planner.services.accounts.costs import actuals_book

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_WRITERS = {"csv": (repairs_csv, "text/csv"), "xlsx": (repairs_xlsx, XLSX)}


class RepairSearch(serializers.Serializer[Any]):
    """Which repairs; all that is booked unless something is named."""

    month = serializers.RegexField(r"^20[0-9]{2}-(0[1-9]|1[0-2])$", required=False, help_text="as 2026-03")
    zone = serializers.ChoiceField(choices=[zone.value for zone in Zone], required=False)
    size = serializers.CharField(max_length=24, required=False)
    failed = serializers.BooleanField(required=False, default=None)
    search = serializers.CharField(max_length=80, required=False, help_text="in serial and order number")


class ExportSearch(RepairSearch):
    """The same, and the kind of file."""

    kind = serializers.ChoiceField(choices=list(_WRITERS), default="csv")


class RepairShape(serializers.Serializer[Any]):
    """One repair as it is booked; no month: its actual is not booked yet."""

    work_order = serializers.CharField(source="repair.work_order.code")
    serial = serializers.CharField(source="repair.work_order.tyre.serial")
    month = serializers.DateField(source="repair.month", allow_null=True)
    failed = serializers.BooleanField(source="repair.failed")
    hours_gained = serializers.IntegerField(source="repair.hours_gained")
    estimate = MoneyShape()
    actual = MoneyShape()
    variance = MoneyShape()
    avoided = MoneyShape()


class FigureShape(serializers.Serializer[Any]):
    """A figure, how it was worked out, and how deep it stands under the total."""

    depth = serializers.IntegerField()
    name = serializers.CharField(source="figure.label")
    amount = MoneyShape(source="figure.amount")
    formula = serializers.CharField(source="figure.formula")


class VarianceShape(serializers.Serializer[Any]):
    """A part of actual less estimate that has one cause."""

    kind = serializers.CharField()
    item = serializers.CharField()
    cause = serializers.CharField()
    amount = MoneyShape()


class RepairBooksShape(serializers.Serializer[Any]):
    """Both sheets of one repair, opened, and why they differ."""

    repair = RepairShape(source="row")
    estimate = FigureShape(many=True)
    actual = FigureShape(many=True)
    variances = VarianceShape(many=True)


class BookedShape(serializers.Serializer[Any]):
    """How many repairs were booked, and why each of the others was not."""

    count = serializers.IntegerField()
    faults = serializers.ListField(child=serializers.CharField())


class Repairs(SiteView):
    """The booked repairs of a site."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="repair_list", parameters=[RepairSearch], responses=RepairShape(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The repairs that match, the latest first."""
        rows = repair_list(user=self.user, site=self.site, wanted=_wanted(self.asked(RepairSearch)))
        return self.page(rows, RepairShape, lambda row: repair_row(row, self.site.currency))


class OneRepair(SiteView):
    """The books of one repair."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="repair_books_get", responses=RepairBooksShape)
    def get(self, request: Request, site: str, number: int) -> Response:
        """Both sheets down to their entries, by the work order's number."""
        return self.one(repair_books_get(user=self.user, site=self.site, number=number), RepairBooksShape)


class RepairExport(SiteView):
    """The booked repairs as a spreadsheet."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(
        operation_id="repair_export",
        parameters=[ExportSearch],
        responses={(200, kind): OpenApiTypes.BINARY for _, kind in _WRITERS.values()},
    )
    def get(self, request: Request, site: str) -> HttpResponse:
        """The repairs that match; no cell is taken for a formula, and the totals are those of the page."""
        asked = self.asked(ExportSearch)
        kind = asked.pop("kind")
        write, media_type = _WRITERS[kind]
        rows = repair_list(user=self.user, site=self.site, wanted=_wanted(asked))
        currency = self.site.currency
        raw = write((repair_row(row, currency) for row in rows.iterator(chunk_size=2000)), currency)
        return file_response(raw, name=f"repairs-{self.site.code}.{kind}", kind=media_type)


class Bookings(SiteView):
    """The booking of repairs that have ended."""

    actions = {"POST": Action.MONEY_CHANGE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="actuals_book", request=None, responses={201: BookedShape})
    def post(self, request: Request, site: str) -> Response:
        """Book every repair that ended; one that lacks a price or a record is named and left for later."""
        return self.once(self._booked)

    def _booked(self) -> Response:
        return self.one(actuals_book(user=self.user, site=self.site), BookedShape, status=201)


def _wanted(asked: dict[str, Any]) -> RepairFilter:
    month = asked.pop("month", None)
    return RepairFilter(month=date.fromisoformat(f"{month}-01") if month else None, **asked)
