"""Booking what a repair was estimated to cost and did cost."""

from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from planner.costing.lines import CostKind
from planner.domain.errors import ConflictError, InvalidValueError, UserError
from planner.domain.permissions import Action
from planner.domain.sentences import Sentence, _
from planner.domain.states import NOT_BEGUN_WORK
from planner.models import CostRepair, CostUse, CostVariance, Site, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import open_month, site_day
from planner.selectors.accounts.desk import desk_get
from planner.selectors.accounts.months import COSTED_ENDS, unbooked_orders
from planner.selectors.accounts.sheets import recorded
from planner.selectors.accounts.uses import METERED
from planner.services.accounts.booked import actual_values, estimate_values, set_hours_count, variance_rows
from planner.services.rows import row_add, row_change


def use_record(
    *,
    user: User,
    work_order: WorkOrder,
    kind: CostKind,
    quantity: Decimal,
    item: str = "",
    evidence: str = "",
) -> CostUse:
    """Record material, metered energy, a trip or an inspection, until the actual is booked.

    Only material needs its `item`.
    """
    require_on_site(user=user, site=work_order.site, action=Action.WORK_RECORD)
    if CostRepair.objects.filter(work_order=work_order, month__isnull=False).exists():
        raise ConflictError(
            _("the actual cost of {work_order} is booked: nothing can be added to it", work_order=work_order)
        )
    row = CostUse(
        site=work_order.site,
        work_order=work_order,
        kind=kind,
        item=item or METERED.get(kind, ""),
        quantity=quantity,
        evidence=evidence,
    )
    row_add(user=user, site=work_order.site, row=row, action="use_record")
    return row


def estimate_book(*, user: User, work_order: WorkOrder, why: str = "") -> CostRepair:
    """Keep the estimate as it stands today, in place of one kept before; the actual is held against it."""
    require_on_site(user=user, site=work_order.site, action=Action.SPEND_APPROVE)
    booked = CostRepair.objects.filter(work_order=work_order).exists()
    if booked and work_order.state not in NOT_BEGUN_WORK:
        raise ConflictError(
            _("work on {work_order} has begun: what was estimated before it stands", work_order=work_order)
        )
    return _estimate_booked(user, work_order, why)


def estimate_keep(*, user: User, work_order: WorkOrder, why: str) -> None:
    """Book the estimate where none is booked; who may decide or begin has been asked already.

    Nothing is booked, and nothing held up, where a price, an assumption or a measure is missing.
    """
    if not CostRepair.objects.filter(work_order=work_order).exists():
        with suppress(UserError):
            _estimate_booked(user, work_order, why)


def estimate_renew(*, user: User, work_order: WorkOrder, why: str) -> None:
    """Book again what was booked before work began, as what is known of the injury has changed."""
    waits = work_order.state in NOT_BEGUN_WORK
    if waits and CostRepair.objects.filter(work_order=work_order).exists():
        with suppress(UserError):
            _estimate_booked(user, work_order, why)


def _estimate_booked(user: User, work_order: WorkOrder, why: str) -> CostRepair:
    values = estimate_values(work_order, desk_get(site=work_order.site, order=work_order))
    return _booked(user, work_order, values, "estimate_book", why)


def actual_book(*, user: User, work_order: WorkOrder, why: str = "") -> CostRepair:
    """Book what an ended repair did cost, with its variances, into the month in which it ended.

    Where that month is closed already, it counts in the first month that is not.
    """
    require_on_site(user=user, site=work_order.site, action=Action.MONEY_CHANGE)
    if work_order.state not in COSTED_ENDS:
        raise InvalidValueError(
            _("{work_order} is not over: its actual cost is booked when it is", work_order=work_order)
        )
    desk = desk_get(site=work_order.site, day=site_day(work_order.site, work_order.closed_at))
    month = open_month(site=work_order.site, day=desk.day)
    with transaction.atomic():
        if not CostRepair.objects.filter(work_order=work_order).exists():
            _estimate_booked(user, work_order, why)
        actual = recorded(work_order, desk)
        values = actual_values(work_order, actual, desk) | {"month": month}
        row = _booked(user, work_order, values, "actual_book", why)
        CostVariance.objects.bulk_create(variance_rows(row, actual))
        set_hours_count(work_order.site, actual)
    return row


@dataclass(frozen=True, slots=True, kw_only=True)
class Booked:
    """How many repairs were booked, and why each of the others was not."""

    count: int
    faults: tuple[Sentence, ...]


def actuals_book(*, user: User, site: Site) -> Booked:
    """Book every repair that ended; one that lacks a price or a record is named and left for later."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    count, faults = 0, []
    for order in unbooked_orders(user=user, site=site).select_related("site", "tyre", "route"):
        try:
            actual_book(user=user, work_order=order)
            count += 1
        except UserError as fault:
            faults.append(_("{order}: {fault}", order=order, fault=fault))
    return Booked(count=count, faults=tuple(faults))


def _booked(user: User, order: WorkOrder, values: dict[str, Any], action: str, why: str) -> CostRepair:
    row = CostRepair.objects.filter(work_order=order).first()
    if row is None:
        row = CostRepair(site=order.site, work_order=order, **values)
        row_add(user=user, site=order.site, row=row, action=action, why=why)
        return row
    if row.month is not None:
        raise ConflictError(
            _("the cost of {order} is booked already, in {month:%B %Y}", order=order, month=row.month)
        )
    row_change(user=user, site=order.site, row=row, values=values, action=action, why=why)
    return row
