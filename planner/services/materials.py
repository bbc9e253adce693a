"""Taking material from a lot for a repair: refused when expired or used up."""

from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Sum
from django.utils import timezone

from planner.domain.errors import InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import MaterialLot, MaterialUse, User, WorkOrder
from planner.selectors.access import require_on_site
from planner.services.rows import row_add


def material_use_record(
    *,
    user: User,
    lot: MaterialLot,
    work_order: WorkOrder,
    quantity: Decimal,
    used_at: datetime | None = None,
) -> MaterialUse:
    """Record what a repair takes from a lot.

    Raises InvalidValueError where the lot is expired on that day at the site, or holds less than asked for.
    """
    require_on_site(user=user, site=lot.site, action=Action.WORK_RECORD)
    at = used_at or timezone.now()
    with transaction.atomic():
        MaterialLot.objects.select_for_update().get(pk=lot.pk)
        _refuse_expired(lot, at)
        left = lot_left(lot=lot)
        if quantity > left:
            unit = lot.material.unit
            raise InvalidValueError(
                _(
                    "{lot} has {left:f} {unit} left, not {quantity}: take another lot",
                    lot=lot,
                    left=left.normalize(),
                    unit=unit,
                    quantity=quantity,
                )
            )
        use = MaterialUse(
            site=lot.site, lot=lot, work_order=work_order, quantity=quantity, used_at=at, used_by=user
        )
        row_add(user=user, site=lot.site, row=use, action="material_use_record")
    return use


def lot_left(*, lot: MaterialLot) -> Decimal:
    """What is left of a lot, in the material's unit."""
    used: Decimal | None = lot.uses.aggregate(used=Sum("quantity"))["used"]
    return (lot.quantity - (used or Decimal(0))).quantize(Decimal("0.001"))


def _refuse_expired(lot: MaterialLot, at: datetime) -> None:
    today = at.astimezone(ZoneInfo(lot.site.time_zone)).date()
    if lot.expires_on < today:
        raise InvalidValueError(
            _(
                "{lot} expired on {expires_on:%d %b %Y}: quarantine it and take another lot",
                lot=lot,
                expires_on=lot.expires_on,
            )
        )
