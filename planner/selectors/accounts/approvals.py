"""How many persons must approve the spend on a repair, and who has."""

from dataclasses import dataclass

from planner.costing.assumptions import Assumption
from planner.domain.money import Money, minor_units
from planner.models import CostApproval, WorkOrder
from planner.selectors.accounts.books import assumed_get, site_day
from planner.selectors.accounts.sheets import estimate_get


@dataclass(frozen=True, slots=True, kw_only=True)
class ApprovalNeed:
    """The spend to approve, how many persons it needs, and the approvals of that very spend."""

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
            return f"{self.amount} needs no approval"
        if not self.missing:
            return f"{self.amount} is approved"
        who = "one more person" if self.missing == 1 else f"{self.missing} persons"
        return f"{self.amount} still needs approval by {who}"


def approval_need_get(*, order: WorkOrder) -> ApprovalNeed:
    """The need at today's limits; an approval of another amount does not count for this one."""
    amount = estimate_get(order=order).total
    assumed = assumed_get(site=order.site, day=site_day(order.site))
    one, two = assumed[Assumption.ONE_APPROVAL], assumed[Assumption.TWO_APPROVALS]
    persons = 2 if amount.amount > two else 1 if amount.amount > one else 0
    given = CostApproval.objects.filter(work_order=order, amount_minor=minor_units(amount))
    return ApprovalNeed(amount=amount, persons=persons, given=tuple(given.select_related("approver")))
