"""Approving the spend on a repair: by one person, or by two above the site's limit."""

from django.db import transaction

from planner.domain.errors import ConflictError
from planner.domain.money import minor_units
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.states import OPEN_WORK
from planner.models import CostApproval, CostRepair, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.approvals import approval_need_get, booked_needs_get
from planner.services.accounts.costs import estimate_book, estimate_keep
from planner.services.rows import row_add


def spend_approve(*, user: User, work_order: WorkOrder, note: str = "") -> CostApproval:
    """Add one person's approval of the booked estimate; nobody approves the same twice."""
    site = work_order.site
    require_on_site(user=user, site=site, action=Action.SPEND_APPROVE)
    if work_order.state not in OPEN_WORK:
        raise ConflictError(
            _("{work_order} is over: there is no spend left to approve", work_order=work_order)
        )
    with transaction.atomic():
        if not CostRepair.objects.filter(work_order=work_order).exists():
            # What was approved is what the actual is held against.
            estimate_book(user=user, work_order=work_order, why="to be approved")
        need = approval_need_get(user=user, order=work_order)
        if user.pk in {approval.approver_id for approval in need.given}:
            raise ConflictError(
                _("you approved {work_order} already: {words}", work_order=work_order, words=need.words)
            )
        row = CostApproval(
            site=site, work_order=work_order, approver=user, amount_minor=minor_units(need.amount), note=note
        )
        row_add(user=user, site=site, row=row, action="spend_approve", why=note)
    return row


def unapproved_refuse(*, user: User, work_order: WorkOrder) -> None:
    """Raise ConflictError, saying who may approve, where work must not begin for want of an approval.

    Where there is no estimate, since a price or a measure is missing, nobody is held up by it.
    """
    estimate_keep(user=user, work_order=work_order, why="work begins")
    needs = booked_needs_get(user=user, site=work_order.site, orders=[work_order.pk])
    need = needs.get(work_order.pk)
    if need is not None and need.missing:
        raise ConflictError(
            _("{work_order} cannot be begun: {waiting}", work_order=work_order, waiting=need.waiting)
        )
