"""The ways open for one tyre, each with its outlay, life, odds and wait, from the site's books."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.costing.assumptions import Assumption
from planner.costing.comparison import Terms
from planner.costing.lines import CostSheet
from planner.costing.options import OptionKind, StockPosition, TyreOption, repair_outlay
from planner.domain.errors import NotFoundError
from planner.domain.money import Money
from planner.domain.sentences import _
from planner.domain.size_reading import size_read
from planner.engineering.life_bound import LifeBounds
from planner.engineering.life_estimate import LifeEstimate, life_estimate
from planner.engineering.life_records import LifeRecord
from planner.models import CostStock, WorkOrder
from planner.selectors.accounts.desk import Desk
from planner.selectors.accounts.lives import NO_BOUND, bounds_get, prior_of


def terms_of(desk: Desk) -> Terms:
    """The terms that the site assumes."""
    waiting = Money(desk.assumed[Assumption.WAITING_COST], desk.book.currency)
    return Terms(
        hours_a_year=desk.assumed[Assumption.HOURS_A_YEAR],
        discount_rate=desk.assumed[Assumption.DISCOUNT_RATE],
        waiting_cost=waiting,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WeakestInjury:
    """The injury whose repair is expected to end the tyre first, and the life after it."""

    zone: str
    size_class: str
    life: LifeEstimate


def weakest_of(order: WorkOrder, desk: Desk, records: Sequence[LifeRecord]) -> WeakestInjury:
    """Of all injuries of the order the one with the shortest life; NotFoundError where none is on record."""
    size_class = desk.bay.routes.size_class(size_read(order.tyre.size).size)
    code, prior = size_class.code if size_class else "", prior_of(desk.assumed)
    zones = dict.fromkeys(damage.zone for damage in order.damages.all())
    found = [
        WeakestInjury(
            zone=zone,
            size_class=code,
            life=life_estimate(records, zone=zone, size_class=code, prior=prior),
        )
        for zone in zones
    ]
    if not found:
        raise NotFoundError(_("{order} has no injury on record: measure it first", order=order))
    return min(found, key=lambda injury: injury.life.life.mean_within(NO_BOUND))


def bounds_of(order: WorkOrder, desk: Desk) -> LifeBounds:
    """The hours that the casing's tread and age leave."""
    return bounds_get(tyre=order.tyre, assumed=desk.assumed, day=desk.day)


def stock_of(order: WorkOrder, desk: Desk) -> StockPosition:
    """The new tyres of the size in the store."""
    row = CostStock.objects.filter(site=desk.site, size=order.tyre.size).first()
    return StockPosition(
        on_hand=row.on_hand if row else 0,
        promised=row.promised if row else 0,
        lead_time_hours=desk.assumed[Assumption.LEAD_TIME],
    )


def repair_of(
    estimate: CostSheet, life: LifeEstimate, bounds: LifeBounds, stock: StockPosition, desk: Desk
) -> TyreOption:
    """Repairing now, at its estimate and within the life that the casing leaves."""
    outlay = repair_outlay(estimate)
    nothing = Money(Decimal(0), estimate.currency)
    hours = Decimal(str(round(life.life.mean_within(bounds.hours), 1)))
    return TyreOption(
        kind=OptionKind.REPAIR,
        outlay=outlay.spent,
        hours=max(hours, Decimal(1)),
        failure=desk.assumed[Assumption.FAILURE_ODDS],
        if_fails=outlay.if_fails,
        salvage=nothing,
        upkeep=nothing,
        wait_hours=stock.wait_hours(desk.assumed[Assumption.REPAIR_TIME]),
    )


def new_of(order: WorkOrder, stock: StockPosition, desk: Desk) -> TyreOption:
    """Buying new, at the day's price."""
    nothing = Money(Decimal(0), desk.book.currency)
    return TyreOption(
        kind=OptionKind.NEW,
        outlay=desk.book.price_on(OptionKind.NEW, order.tyre.size, desk.day).price,
        hours=desk.assumed[Assumption.NEW_LIFE],
        failure=Decimal(0),
        if_fails=nothing,
        salvage=nothing,
        upkeep=nothing,
        wait_hours=stock.wait_hours(stock.lead_time_hours),
    )


def others_of(
    order: WorkOrder, repair: TyreOption, bounds: LifeBounds, stock: StockPosition, desk: Desk
) -> tuple[TyreOption, ...]:
    """Retreading and sending out, where the price list has them for the size, at the odds of a repair."""
    size = order.tyre.size
    listed = {
        price.kind for price in desk.book.prices if price.item == size and price.effective_from <= desk.day
    }
    away = {OptionKind.RETREAD: Assumption.RETREAD_TIME, OptionKind.SEND_OUT: Assumption.SEND_OUT_TIME}
    usual = desk.assumed[Assumption.REPAIR_TIME]
    return tuple(
        replace(
            repair,
            kind=kind,
            outlay=desk.book.price_on(kind, size, desk.day).price,
            hours=_retread_hours(repair, bounds, desk) if kind is OptionKind.RETREAD else repair.hours,
            wait_hours=stock.wait_hours(desk.assumed.or_else(time, usual)),
        )
        for kind, time in away.items()
        if kind in listed
    )


def _retread_hours(repair: TyreOption, bounds: LifeBounds, desk: Desk) -> Decimal:
    """A new tread is bounded by the casing's age alone; without an assumed life it runs as a repair does."""
    if Assumption.RETREAD_LIFE not in desk.assumed.values:
        return repair.hours
    by_age = Decimal(str(round(bounds.age_hours, 1)))
    return max(min(desk.assumed[Assumption.RETREAD_LIFE], by_age), Decimal(1))
