"""Cost sheets of one order, and their lines as they are kept on file."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from planner.costing.figures import Figure, Given
from planner.costing.lines import CostKind, CostLine, CostSheet
from planner.costing.sheet import cost_sheet
from planner.domain.money import Money, Rounding
from planner.domain.permissions import Action
from planner.models import User, WorkOrder
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import site_day
from planner.selectors.accounts.desk import Desk, desk_get
from planner.selectors.accounts.planned_work import planned_work_get
from planner.selectors.accounts.recorded_work import recorded_work_get


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureRow:
    """A figure with how deep it stands under the total."""

    depth: int
    figure: Figure


def figure_rows(figure: Figure) -> list[FigureRow]:
    """The figure and all below it, from the top down."""
    return [FigureRow(depth=depth, figure=each) for depth, each in figure.walk()]


def estimate_get(*, user: User, order: WorkOrder) -> CostSheet:
    """The sheet of the planned work at today's prices."""
    require_on_site(user=user, site=order.site, action=Action.MONEY_READ)
    return estimated(order, desk_get(site=order.site, order=order))


def actual_get(*, user: User, order: WorkOrder) -> CostSheet:
    """The sheet of the recorded work at the prices of the day on which it ended, or of today."""
    require_on_site(user=user, site=order.site, action=Action.MONEY_READ)
    day = site_day(order.site, order.closed_at)
    return recorded(order, desk_get(site=order.site, day=day, order=order))


def estimated(order: WorkOrder, desk: Desk) -> CostSheet:
    """The planned work on a desk, for those who were asked what they may do."""
    work = planned_work_get(order=order, assumed=desk.assumed, bay=desk.bay)
    return cost_sheet(work, desk.book, desk.day)


def recorded(order: WorkOrder, desk: Desk) -> CostSheet:
    """The recorded work on a desk, for those who were asked what they may do."""
    return cost_sheet(recorded_work_get(order=order, bay=desk.bay), desk.book, desk.day)


def lines_filed(sheet: CostSheet) -> list[dict[str, Any]]:
    """The sheet's lines as they are kept, numbers as text so that none loses a digit."""
    return [
        {
            "kind": line.kind.value,
            "item": line.item,
            "quantity": str(line.quantity),
            "unit": line.unit,
            "price": str(line.price.amount),
            "per": line.per,
            "rounding": line.rounding.value,
            "givens": [[given.label, str(given.value), given.unit, given.source] for given in line.givens],
        }
        for line in sheet.lines
    ]


def sheet_of(lines: Sequence[dict[str, Any]], currency: str) -> CostSheet:
    """The sheet whose lines were kept."""
    return CostSheet(currency=currency, lines=tuple(_line(line, currency) for line in lines))


def _line(line: dict[str, Any], currency: str) -> CostLine:
    return CostLine(
        kind=CostKind(line["kind"]),
        item=line["item"],
        quantity=Decimal(line["quantity"]),
        unit=line["unit"],
        price=Money(Decimal(line["price"]), currency),
        per=line["per"],
        rounding=Rounding(line["rounding"]),
        givens=tuple(
            Given(label=label, value=Decimal(value), unit=unit, source=source)
            for label, value, unit, source in line["givens"]
        ),
    )
