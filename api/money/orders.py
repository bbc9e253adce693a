"""Money of one work order: its estimate, its comparison with new, and the approval of its spend."""

from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from api.base.views import SiteView
from api.money.shapes import ApprovalShape, ComparisonShape, EstimateShape, SpendApprove
from api.work_orders.views import order_of
from planner.domain.permissions import Action
from planner.selectors.accounts.approvals import approval_need_get
from planner.selectors.accounts.comparisons import repair_comparison_get
from planner.selectors.accounts.sheets import estimate_get
from planner.services.accounts.approvals import spend_approve


class Estimate(SiteView):
    """The estimate of one repair."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="estimate_get", responses=EstimateShape)
    def get(self, request: Request, site: str, number: int) -> Response:
        """The planned work at today's prices; 422 says which price or assumption is missing."""
        order = order_of(self, number)
        sheet = {
            "sheet": estimate_get(user=self.user, order=order),
            "need": approval_need_get(user=self.user, order=order),
        }
        return self.one(sheet, EstimateShape)


class RepairComparison(SiteView):
    """Repair against new for one tyre."""

    actions = {"GET": Action.MONEY_READ}

    @extend_schema(operation_id="comparison_get", responses=ComparisonShape)
    def get(self, request: Request, site: str, number: int) -> Response:
        """Costs, odds and advice; 422 says which price, assumption or injury is missing."""
        return self.one(repair_comparison_get(user=self.user, site=self.site, number=number), ComparisonShape)


class Approvals(SiteView):
    """Approvals of the spend on one repair."""

    actions = {"POST": Action.SPEND_APPROVE}
    created = frozenset({"POST"})

    @extend_schema(operation_id="spend_approve", request=SpendApprove, responses={201: ApprovalShape})
    def post(self, request: Request, site: str, number: int) -> Response:
        """Approve the estimate as it stands, for the caller's own part."""
        return self.once(lambda: self._approved(number))

    def _approved(self, number: int) -> Response:
        order = order_of(self, number)
        row = spend_approve(user=self.user, work_order=order, **self.sent(SpendApprove))
        return self.one(row, ApprovalShape, status=201)
