"""Reading what is on file about prices and assumptions, as the costing core takes it."""

from datetime import date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from django.utils import timezone

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.depreciation import Asset
from planner.costing.lines import CostKind
from planner.costing.options import OptionKind
from planner.costing.rates import PRICED, DatedPrice, DatedRate, PriceKind, RateBook
from planner.costing.set_hours import HeaterSetAsset, SetTerms, WritingOff, hour_prices
from planner.domain.money import Money
from planner.models import CostAsset, CostAssumption, CostPeriod, CostPrice, CostRate, Site
from planner.models.cost_assumption import ACCEPTED
from planner.models.cost_rate import EXCHANGE, TAX

_KINDS: dict[str, PriceKind] = {kind.value: kind for kind in PRICED}
# Bought from others, so tax is paid on them; wages and own plant bear none.
_TAXED = frozenset({CostKind.MATERIAL, CostKind.ENERGY, CostKind.TRANSPORT, CostKind.INSPECTION})


def site_day(site: Site, at: datetime | None = None) -> date:
    """The day on the site's own calendar."""
    return timezone.localdate(at or timezone.now(), ZoneInfo(site.time_zone))


def rate_book_get(*, site: Site, assumed: Assumed) -> RateBook:
    """Every price, tax and exchange rate of the site, heater sets written off as assumed."""
    rates = list(CostRate.objects.filter(site=site))
    owned = _owned_sets(site, assumed)
    listed = (_price(row) for row in CostPrice.objects.filter(site=site))
    return RateBook(
        currency=site.currency,
        prices=(*(price for price in listed if not _is_replaced(price, owned)), *owned),
        tax=tuple(_rate(row) for row in rates if row.kind == TAX),
        exchange=tuple(_rate(row) for row in rates if row.kind == EXCHANGE),
        taxed=_TAXED,
    )


def _owned_sets(site: Site, assumed: Assumed) -> tuple[DatedPrice, ...]:
    """The hour prices of the sets whose first cost is on file; none until the site assumes a way."""
    if Assumption.WRITING_OFF not in assumed.values:
        return ()
    terms = SetTerms(
        way=WritingOff(int(assumed[Assumption.WRITING_OFF])),
        hours_a_year=assumed[Assumption.SET_HOURS_A_YEAR],
        share=assumed[Assumption.DECLINING_SHARE],
    )
    rows = CostAsset.objects.filter(site=site)
    return tuple(price for row in rows for price in hour_prices(_asset(row, site.currency), terms))


def _is_replaced(listed: DatedPrice, owned: tuple[DatedPrice, ...]) -> bool:
    """Whether a listed price gives way: from the day on which a set was bought, its own first cost speaks."""
    same = (price for price in owned if (price.kind, price.item) == (listed.kind, listed.item))
    first = next(same, None)
    return first is not None and listed.effective_from >= first.effective_from


def _asset(row: CostAsset, currency: str) -> HeaterSetAsset:
    worth = Asset(
        cost=Money(row.first_cost, currency), salvage=Money(row.salvage, currency), life_years=row.life_years
    )
    return HeaterSetAsset(
        heater_set=row.item,
        asset=worth,
        bought_on=row.bought_on,
        life_hours=Decimal(row.life_hours),
        used_hours=row.hours_before + Decimal(row.booked_seconds) / 3600,
        source=row.source,
    )


def assumed_get(*, site: Site, day: date) -> Assumed:
    """Every accepted assumption that holds on the day."""
    rows = CostAssumption.objects.filter(site=site, state=ACCEPTED, effective_from__lte=day)
    return Assumed(values={Assumption(row.name): row.value for row in rows.order_by("effective_from", "pk")})


def month_of(day: date) -> date:
    """The first day of the day's month."""
    return day.replace(day=1)


def month_closed(*, site: Site, day: date) -> bool:
    """Whether the day's month is closed."""
    return CostPeriod.objects.filter(site=site, month=month_of(day)).exists()


def last_closed(site: Site) -> CostPeriod | None:
    """The latest closed month, if any."""
    return CostPeriod.objects.filter(site=site).order_by("-month").first()


def open_month(*, site: Site, day: date) -> date:
    """The month in which something of the day counts: its own, or the first one after those closed."""
    last = last_closed(site)
    if last is None or last.month < month_of(day):
        return month_of(day)
    return month_of(last.month + timedelta(days=31))


def new_tyre_price(book: RateBook, size: str, day: date) -> Money:
    """The day's price of a new tyre of the size, in the site's currency; InvalidValueError without one."""
    return book.price_on(OptionKind.NEW, size, day).price


def _price(row: CostPrice) -> DatedPrice:
    return DatedPrice(
        kind=_KINDS[row.kind],
        item=row.item,
        unit=row.unit,
        price=Money(row.amount, row.currency),
        effective_from=row.effective_from,
        source=row.source,
        loading=row.loading,
        overtime_factor=row.overtime_factor,
    )


def _rate(row: CostRate) -> DatedRate:
    return DatedRate(name=row.name, rate=row.rate, effective_from=row.effective_from, source=row.source)
