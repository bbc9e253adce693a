"""What a repair took beside its hours: what was metered or counted, and what lots of material it used."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from planner.domain.permissions import Action
from planner.models import CostUse, MaterialLot, Site, User, WorkOrder
from planner.models import MaterialUse as LotUse
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import site_day

# The only item of the kinds that have no list of their own.
METERED = {"energy": "electricity", "transport": "trip", "inspection": "final inspection"}
UNITS = {"energy": "kWh", "transport": "trips", "inspection": "inspections", "materials": "kg"}


@dataclass(frozen=True, slots=True, kw_only=True)
class UseRow:
    """A quantity that a repair took, and what shows it."""

    kind: str
    item: str
    quantity: Decimal
    unit: str
    evidence: str
    at: datetime | None


def use_list(*, user: User, work_order: WorkOrder) -> list[UseRow]:
    """Everything on record: what was counted, then what lots gave, the oldest first."""
    require_on_site(user=user, site=work_order.site, action=Action.SITE_READ)
    return [*_counted(work_order), *_lots(work_order)]


def usable_lots(*, user: User, site: Site) -> list[MaterialLot]:
    """The lots that are not expired, the one that expires first on top."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    lots = MaterialLot.objects.filter(site=site, expires_on__gte=site_day(site))
    return list(lots.select_related("material"))


def _counted(order: WorkOrder) -> Iterator[UseRow]:
    for row in CostUse.objects.filter(work_order=order):
        yield UseRow(
            kind=row.kind,
            item=row.item,
            quantity=row.quantity,
            unit=UNITS[row.kind],
            evidence=row.evidence,
            at=None,
        )


def _lots(order: WorkOrder) -> Iterator[UseRow]:
    for use in LotUse.objects.filter(work_order=order).select_related("lot__material"):
        yield UseRow(
            kind="materials",
            item=use.lot.material.code,
            quantity=use.quantity,
            unit=use.lot.material.unit,
            evidence=f"lot {use.lot.code}",
            at=use.used_at,
        )
