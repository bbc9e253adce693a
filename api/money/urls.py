"""The addresses of money, in a site."""

from datetime import date, datetime

from django.urls import path, register_converter

from api.money.assumptions import Assumptions, OneAssumption
from api.money.imports import ImportPreviews, Imports
from api.money.months import MonthClosing, Months, OneMonth
from api.money.orders import Approvals, Estimate, RepairComparison
from api.money.repairs import Bookings, OneRepair, RepairExport, Repairs


class MonthConverter:
    """A month, such as 2026-03."""

    regex = "20[0-9]{2}-(0[1-9]|1[0-2])"

    def to_python(self, value: str) -> date:
        """Its first day."""
        return datetime.strptime(f"{value}-01", "%Y-%m-%d").date()  # noqa: DTZ007 (a date has no zone)

    def to_url(self, value: date) -> str:
        """The month in an address."""
        return f"{value:%Y-%m}"


register_converter(MonthConverter, "month")

urlpatterns = [
    path("work-orders/<row:number>/estimate/", Estimate.as_view()),
    path("work-orders/<row:number>/comparison/", RepairComparison.as_view()),
    path("work-orders/<row:number>/approvals/", Approvals.as_view()),
    path("repairs/", Repairs.as_view()),
    path("repairs/book/", Bookings.as_view()),
    path("repairs/export/", RepairExport.as_view()),
    path("repairs/<row:number>/", OneRepair.as_view()),
    path("imports/", Imports.as_view()),
    path("imports/preview/", ImportPreviews.as_view()),
    path("months/", Months.as_view()),
    path("months/<month:month>/", OneMonth.as_view()),
    path("months/<month:month>/close/", MonthClosing.as_view()),
    path("assumptions/", Assumptions.as_view()),
    path("assumptions/<row:assumption>/", OneAssumption.as_view()),
]
