"""Reading what is on file about prices and assumptions, as the costing core takes it."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.utils import timezone

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.lines import CostKind
from planner.costing.options import OptionKind
from planner.costing.rates import PRICED, DatedPrice, DatedRate, PriceKind, RateBook
from planner.domain.money import Money
from planner.models import CostAssumption, CostPeriod, CostPrice, CostRate, Site
from planner.models.cost_assumption import ACCEPTED
from planner.models.cost_rate import EXCHANGE, TAX

_KINDS: dict[str, PriceKind] = {kind.value: kind for kind in PRICED}
# Bought from others, so tax is paid on them; wages and own plant bear none.
_TAXED = frozenset({CostKind.MATERIAL, CostKind.ENERGY, CostKind.TRANSPORT, CostKind.INSPECTION})


def site_day(site: Site, at: datetime | None = None) -> date:
    """The day on the site's own calendar."""
    return timezone.localdate(at or timezone.now(), ZoneInfo(site.time_zone))


def rate_book_get(*, site: Site) -> RateBook:
    """Every price, tax and exchange rate of the site."""
    rates = list(CostRate.objects.filter(site=site))
    return RateBook(
        currency=site.currency,
        prices=tuple(_price(row) for row in CostPrice.objects.filter(site=site)),
        tax=tuple(_rate(row) for row in rates if row.kind == TAX),
        exchange=tuple(_rate(row) for row in rates if row.kind == EXCHANGE),
        taxed=_TAXED,
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
