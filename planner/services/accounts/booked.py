"""What is kept of a repair in the books: its sheets, what it gained, and why they differ."""

from collections.abc import Iterator
from typing import Any

from django.db.models import F

from planner.costing.lines import CostKind, CostSheet
from planner.costing.variance import variance_by_cause, variances
from planner.domain.money import minor_units
from planner.domain.states import WorkOrderState
from planner.models import CostAsset, CostRepair, CostVariance, Site, WorkOrder
from planner.selectors.accounts.books import new_tyre_price
from planner.selectors.accounts.comparisons import repair_hours
from planner.selectors.accounts.desk import Desk
from planner.selectors.accounts.sheets import estimated, lines_filed, sheet_of


def estimate_values(order: WorkOrder, desk: Desk) -> dict[str, Any]:
    """The estimate on a desk, as it is kept."""
    sheet = estimated(order, desk)
    return {"estimate_minor": minor_units(sheet.total), "estimate_lines": lines_filed(sheet)}


def actual_values(order: WorkOrder, actual: CostSheet, desk: Desk) -> dict[str, Any]:
    """The actual as it is kept, and what the repair gained: nothing where it failed."""
    failed = order.state == WorkOrderState.REJECTED
    avoided = new_tyre_price(desk.book, order.tyre.size, desk.day).rounded()
    return {
        "actual_minor": minor_units(actual.total),
        "actual_lines": lines_filed(actual),
        "failed": failed,
        "avoided_minor": 0 if failed else minor_units(avoided),
        "hours_gained": 0 if failed else round(repair_hours(order, desk)),
    }


def variance_rows(repair: CostRepair, actual: CostSheet) -> Iterator[CostVariance]:
    """A row for each cause of actual less the estimate that was kept; none until it counts in a month."""
    if repair.month is None:
        return
    currency = repair.site.currency
    parts = variances(sheet_of(repair.estimate_lines, currency), actual)
    for cause, amount in variance_by_cause(parts, currency).items():
        yield CostVariance(
            site=repair.site, repair=repair, month=repair.month, cause=cause, amount_minor=minor_units(amount)
        )


def set_hours_count(site: Site, actual: CostSheet) -> None:
    """Add the hours for which sets were charged to what is used of their lives."""
    for line in actual.of(CostKind.HEATER_SET):
        owned = CostAsset.objects.filter(site=site, item=line.item)
        owned.update(booked_seconds=F("booked_seconds") + round(line.quantity * 60))
