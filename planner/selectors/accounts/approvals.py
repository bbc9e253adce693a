"""How many persons must approve the spend on a repair, who has, and which repairs wait for it."""

from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.domain.money import Money, minor_units, money_of_minor_units
from planner.domain.permissions import PERMISSIONS, Action
from planner.domain.sentences import _, either
from planner.domain.states import NOT_BEGUN_WORK
from planner.models import CostApproval, CostRepair, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import assumed_get, site_day
from planner.selectors.accounts.sheets import estimate_get


@dataclass(frozen=True, slots=True, kw_only=True)
class ApprovalNeed:
    """The spend to approve, how many persons it needs, and each person's approval that covers it."""

    amount: Money
    persons: int
    given: tuple[CostApproval, ...]

    @property
    def missing(self) -> int:
        """How many persons are still missing."""
        return max(self.persons - len(self.given), 0)

    @property
    def words(self) -> str:
        """How it stands, in plain words."""
        if not self.persons:
            return _("{amount} needs no approval", amount=self.amount)
        if not self.missing:
            return _("{amount} is approved", amount=self.amount)
        return _("{amount} still needs approval by {who}", amount=self.amount, who=self._who)

    @property
    def waiting(self) -> str:
        """What somebody who may not read money is told; empty where nothing is missing."""
        if not self.missing:
            return ""
        roles = either(sorted(PERMISSIONS[Action.SPEND_APPROVE]))
        return _(
            "its spend still needs approval by {who}: an {roles} of this site", who=self._who, roles=roles
        )

    @property
    def _who(self) -> str:
        return _("one more person") if self.missing == 1 else _("{count} persons", count=self.missing)


def approval_need_get(*, user: User, order: WorkOrder) -> ApprovalNeed:
    """The need of the booked estimate, or of today's where none is booked, at today's limits."""
    booked = booked_needs_get(user=user, site=order.site, orders=[order.pk]).get(order.pk)
    if booked is not None:
        return booked
    amount = estimate_get(user=user, order=order).total
    return ApprovalNeed(amount=amount, persons=_persons(amount, _assumed(order.site)), given=())


def booked_needs_get(*, user: User, site: Site, orders: Collection[int]) -> dict[int, ApprovalNeed]:
    """The need of every order, by its key, whose estimate is booked; as many queries for many as for one.

    Anybody of the site may ask; who may not read money is told `waiting` alone.
    """
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    assumed = _assumed(site)
    approvals: dict[int, list[CostApproval]] = {}
    for approval in CostApproval.objects.filter(work_order__in=orders).select_related("approver"):
        approvals.setdefault(approval.work_order_id, []).append(approval)
    rows = CostRepair.objects.filter(work_order__in=orders).values_list("work_order", "estimate_minor")
    amounts = {order: money_of_minor_units(units, site.currency) for order, units in rows}
    return {
        order: ApprovalNeed(
            amount=amount,
            persons=_persons(amount, assumed),
            given=_covering(approvals.get(order, []), amount),
        )
        for order, amount in amounts.items()
    }


def waiting_get(*, user: User, site: Site) -> dict[str, str]:
    """The repairs decided on, by their code, that nobody may begin yet, and whose approval each needs."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    rows = WorkOrder.objects.filter(site=site, state__in=NOT_BEGUN_WORK)
    orders = {order.pk: order.code for order in rows}
    needs = booked_needs_get(user=user, site=site, orders=orders)
    return {orders[key]: need.waiting for key, need in needs.items() if need.missing}


def _assumed(site: Site) -> Assumed:
    return assumed_get(site=site, day=site_day(site))


def _persons(amount: Money, assumed: Assumed) -> int:
    """One above the first limit, two above the second; a limit that the site has not set asks for nobody."""
    limits = (Assumption.ONE_APPROVAL, Assumption.TWO_APPROVALS)
    above = [amount.amount > assumed.values.get(limit, Decimal("inf")) for limit in limits]
    return 2 if above[1] else int(above[0])


def _covering(approvals: list[CostApproval], amount: Money) -> tuple[CostApproval, ...]:
    """The last approval by each person that covers the amount."""
    units = minor_units(amount)
    return tuple(
        {approval.approver_id: approval for approval in approvals if approval.amount_minor >= units}.values()
    )
