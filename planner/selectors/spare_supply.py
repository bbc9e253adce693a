"""What there is of each tyre size, and what is on order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Count

from planner.domain.states import TyreState, WorkOrderState
from planner.engineering.spare_cover import Arrival
from planner.models import CostStock, Site, Tyre, TyreDelivery, WorkOrder
from planner.selectors.machines import FleetRow


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeSupply:
    """What there is of a size and what is on order; `waiting` machine positions take from it first."""

    on_hand: int = 0
    promised: int = 0
    repaired: int = 0
    empty: int = 0
    deliveries: tuple[TyreDelivery, ...] = ()

    @property
    def waiting(self) -> int:
        """Tyres that machines wait for now; those promised in the store are for the same positions."""
        return max(self.empty, self.promised)

    @property
    def spares(self) -> int:
        """What is left for the next machine; below nothing, machines stand already."""
        return self.on_hand + self.repaired - self.waiting

    @property
    def on_order(self) -> int:
        """New tyres on order, of all deliveries."""
        return sum(delivery.quantity for delivery in self.deliveries)


def delivery_arrivals(supply: SizeSupply, today: date) -> list[Arrival]:
    """What is on order as arrivals; what is overdue is counted on for tomorrow."""
    return [
        Arrival(day=max((delivery.expected_on - today).days + 1, 2), number=delivery.quantity)
        for delivery in supply.deliveries
    ]


def size_supplies_get(*, site: Site, fleet: Sequence[FleetRow]) -> Mapping[str, SizeSupply]:
    """The supply of every size with any, from the store, finished repairs, orders and empty positions."""
    stock = {row.size: row for row in CostStock.objects.filter(site=site)}
    repaired = dict(_repaired(site))
    deliveries: dict[str, list[TyreDelivery]] = {}
    for row in TyreDelivery.objects.filter(site=site, arrived_on__isnull=True):
        deliveries.setdefault(row.size, []).append(row)
    empty: dict[str, int] = {}
    for seat in (seat for row in fleet for seat in row.empty):
        empty[seat.position.size] = empty.get(seat.position.size, 0) + 1
    return {
        size: SizeSupply(
            on_hand=stock[size].on_hand if size in stock else 0,
            promised=stock[size].promised if size in stock else 0,
            repaired=repaired.get(size, 0),
            empty=empty.get(size, 0),
            deliveries=tuple(deliveries.get(size, ())),
        )
        for size in {*stock, *repaired, *deliveries, *empty}
    }


def _repaired(site: Site) -> list[tuple[str, int]]:
    """Tyres off their machines whose repair ended well and that have no other order since, by size."""
    orders = WorkOrder.objects.filter(site=site)
    well = orders.filter(state=WorkOrderState.REPAIRED).values("tyre")
    other = orders.exclude(state__in=[WorkOrderState.REPAIRED, WorkOrderState.CALLED_OFF]).values("tyre")
    tyres = Tyre.objects.filter(site=site, state=TyreState.OFF_MACHINE, pk__in=well).exclude(pk__in=other)
    return list(tyres.order_by().values_list("size").annotate(number=Count("pk")))
