"""Approving the spend on a repair: by one person, or by two above the site's limit."""

from django.db import transaction

from planner.domain.errors import ConflictError
from planner.domain.money import minor_units
from planner.domain.permissions import Action
from planner.models import CostApproval, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.approvals import approval_need_get
from planner.services.accounts.costs import estimate_book
from planner.services.rows import row_add


def spend_approve(*, user: User, work_order: WorkOrder, note: str = "") -> CostApproval:
    """Add one person's approval of the estimate as it stands; nobody approves the same twice."""
    site = work_order.site
    require_on_site(user=user, site=site, action=Action.SPEND_APPROVE)
    need = approval_need_get(order=work_order)
    if user.pk in {approval.approver_id for approval in need.given}:
        raise ConflictError(f"you approved {work_order} already: {need.words}")
    row = CostApproval(
        site=site, work_order=work_order, approver=user, amount_minor=minor_units(need.amount), note=note
    )
    with transaction.atomic():
        row_add(user=user, site=site, row=row, action="spend_approve", why=note)
        # What was approved is what the actual is held against.
        estimate_book(user=user, work_order=work_order, why="approved")
    return row
