"""Months of the books."""

from datetime import date
from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.money.shapes import MonthShape
from planner.domain.permissions import Action
from planner.selectors.accounts.months import AccountMonth, account_month_get, booked_months
from planner.services.accounts.periods import period_close


class MonthClose(serializers.Serializer[Any]):
    """A reason for the record."""

    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class MonthName(serializers.Serializer[Any]):
    """A month that has repairs, by its first day."""

    month = serializers.DateField()


class Months(SiteView):
    """The months that have repairs."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="month_list", responses=MonthName(many=True))
    def get(self, request: Request, site: str) -> Response:
        """The months, the latest first."""
        months = [{"month": month} for month in booked_months(user=self.user, site=self.site)]
        return self.page(months, MonthName)


class OneMonth(SiteView):
    """One month."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="month_get", responses=MonthShape)
    def get(self, request: Request, site: str, month: date) -> Response:
        """What the month's repairs cost and gained, and why they differ from their estimates."""
        return self.one(month_told(self, month), MonthShape)


class MonthClosing(SiteView):
    """The closing of one month."""

    actions = {"POST": Action.MONEY_CHANGE}
    matched = frozenset({"POST"})

    @extend_schema(operation_id="month_close", request=MonthClose, responses=MonthShape)
    def post(self, request: Request, site: str, month: date) -> Response:
        """Close a month that is over; nothing that would change it is accepted any more."""
        self.refuse_unmatched(month_told(self, month), MonthShape)
        period_close(user=self.user, site=self.site, month=month, **self.sent(MonthClose))
        return self.one(month_told(self, month), MonthShape)


def month_told(view: SiteView, month: date) -> dict[str, Any]:
    """The month in the words of its shape."""
    found: AccountMonth = account_month_get(user=view.user, site=view.site, month=month)
    causes = [{"cause": cause, "amount": amount} for cause, amount in found.causes]
    return {"month": found.month, "closed": found.closed, "totals": found.totals, "causes": causes}
