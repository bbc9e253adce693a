"""Writing what is on order: ordered, put off or brought forward, arrived, called off."""

from datetime import date

from django.db import transaction

from planner.domain.errors import ConflictError, InvalidValueError, NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.models import CostStock, Site, TyreDelivery, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import site_day
from planner.services.rows import row_add, row_change, row_remove


def tyre_delivery_order(
    *, user: User, site: Site, size_as_written: str, quantity: int, expected_on: date, reference: str = ""
) -> TyreDelivery:
    """Put new tyres on order; InvalidValueError where the size can't be read or the day is over."""
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    _refuse_past(site, expected_on)
    row = TyreDelivery(
        site=site,
        size=str(size_read(size_as_written).size),
        quantity=quantity,
        expected_on=expected_on,
        reference=reference,
    )
    row_add(user=user, site=site, row=row, action="tyre_delivery_order")
    return row


def tyre_delivery_date(*, user: User, site: Site, delivery_id: int, expected_on: date, why: str = "") -> None:
    """Change the day on which it is expected."""
    with transaction.atomic():
        row = _open(user, site, delivery_id)
        _refuse_past(site, expected_on)
        row_change(
            user=user, site=site, row=row, values={"expected_on": expected_on}, action="tyre_delivery_date",
            why=why,
        )  # fmt: skip


def tyre_delivery_receive(*, user: User, site: Site, delivery_id: int) -> CostStock:
    """Take the tyres into the store: they are on hand from now on."""
    with transaction.atomic():
        row = _open(user, site, delivery_id)
        values = {"arrived_on": site_day(site)}
        row_change(user=user, site=site, row=row, values=values, action="tyre_delivery_receive")
        stock = CostStock.objects.select_for_update().filter(site=site, size=row.size).first()
        if stock is None:
            stock = CostStock(site=site, size=row.size, on_hand=row.quantity)
            row_add(user=user, site=site, row=stock, action="stock_receive")
        else:
            values_now = {"on_hand": stock.on_hand + row.quantity}
            row_change(user=user, site=site, row=stock, values=values_now, action="stock_receive")
    return stock


def tyre_delivery_call_off(*, user: User, site: Site, delivery_id: int) -> None:
    """Take it off the list: it will not come."""
    with transaction.atomic():
        row = _open(user, site, delivery_id)
        row_remove(user=user, site=site, row=row, action="tyre_delivery_call_off")


def _open(user: User, site: Site, delivery_id: int) -> TyreDelivery:
    require_on_site(user=user, site=site, action=Action.SPARES_CHANGE)
    row = TyreDelivery.objects.select_for_update().filter(site=site, pk=delivery_id).first()
    if row is None:
        raise NotFoundError(_("that delivery is not on the list any more: load the page again"))
    if row.arrived_on is not None:
        raise ConflictError(
            _(
                "{quantity} × {size} arrived on {arrived_on} already",
                quantity=row.quantity,
                size=row.size,
                arrived_on=row.arrived_on,
            )
        )
    return row


def _refuse_past(site: Site, expected_on: date) -> None:
    if expected_on < site_day(site):
        raise InvalidValueError(_("a delivery can't be expected on a day that is over"))
