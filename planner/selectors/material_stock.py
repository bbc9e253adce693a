"""The store: each material with its lots, what is left, what is near its date, and what is short."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from django.db.models import QuerySet, Sum

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import Material, MaterialLot, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.cures import NEAR_EXPIRY_DAYS

THOUSANDTH = Decimal("0.001")
"""What is weighed; a database may add up in binary fractions."""


class LotState(StrEnum):
    """How a lot stands today."""

    GOOD = "good"
    NEAR = "near its date"
    EXPIRED = "expired"
    EMPTY = "used up"


@dataclass(frozen=True, slots=True, kw_only=True)
class LotStock:
    """A lot with what is left of it, in its material's unit."""

    lot: MaterialLot
    left: Decimal
    state: LotState


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialStock:
    """A material with its lots, soonest date first; `usable` leaves out what has expired."""

    material: Material
    lots: Sequence[LotStock]

    @property
    def usable(self) -> Decimal:
        """What can still be taken."""
        return sum((each.left for each in self.lots if each.state is not LotState.EXPIRED), Decimal(0))

    @property
    def short(self) -> bool:
        """Whether there is less than the site wants to keep."""
        return self.usable < self.material.least_stock


def material_stock_list(*, user: User, site: Site, today: date) -> list[MaterialStock]:
    """Every material that is kept, with its lots; two queries beside the access check."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    lots: dict[int, list[LotStock]] = {}
    rows = MaterialLot.objects.filter(site=site).annotate(used=Sum("uses__quantity"))
    for lot in rows.select_related("material").order_by("expires_on", "pk"):
        left = (lot.quantity - (lot.used or Decimal(0))).quantize(THOUSANDTH)
        stock = LotStock(lot=lot, left=left, state=_state(lot, left, today))
        lots.setdefault(lot.material_id, []).append(stock)
    return [
        MaterialStock(material=material, lots=lots.get(material.pk, []))
        for material in Material.objects.filter(site=site)
        if material.least_stock or material.pk in lots
    ]


def material_list(*, user: User, site: Site) -> QuerySet[Material]:
    """The site's materials by code."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return Material.objects.filter(site=site)


def lot_get(*, user: User, site: Site, lot_id: int) -> MaterialLot:
    """One lot of the site; NotFoundError where there is none."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    lot = MaterialLot.objects.select_related("material", "site").filter(site=site, pk=lot_id).first()
    if lot is None:
        raise NotFoundError(_("there is no lot {lot_id} on {site}", lot_id=lot_id, site=site))
    return lot


def _state(lot: MaterialLot, left: Decimal, today: date) -> LotState:
    if left <= 0:
        return LotState.EMPTY
    if lot.expires_on < today:
        return LotState.EXPIRED
    return LotState.NEAR if lot.expires_on <= today + timedelta(days=NEAR_EXPIRY_DAYS) else LotState.GOOD
