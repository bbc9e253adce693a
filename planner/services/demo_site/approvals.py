"""The demo's approvals: every repair that is to be planned, but for the one that is needed last."""

from collections.abc import Mapping

from planner.domain.permissions import Role
from planner.domain.states import PLANNABLE_WORK
from planner.models import User, WorkOrder
from planner.selectors.accounts.approvals import booked_needs_get
from planner.services.accounts.approvals import spend_approve
from planner.services.accounts.costs import estimate_keep
from planner.services.demo_site.scene import Scene


def approvals_load(scene: Scene, roles: Mapping[str, User]) -> None:
    """Book the estimates of what was decided on, and approve as many persons' worth as each needs."""
    approvers = [roles[role] for role in (Role.SUPERVISOR, Role.ACCOUNTANT) if role in roles]
    rows = WorkOrder.objects.filter(site=scene.site, state__in=PLANNABLE_WORK)
    orders = list(rows.order_by("needed_by", "number"))
    for order in orders:
        estimate_keep(user=approvers[0], work_order=order, why="demo site")
    needs = booked_needs_get(user=approvers[0], site=scene.site, orders=[order.pk for order in orders])
    waiting = [order for order in orders if order.pk in needs and needs[order.pk].missing]
    for order in waiting[:-1]:
        for approver in approvers[: needs[order.pk].missing]:
            spend_approve(user=approver, work_order=order, note="within the month's budget")
