"""The site's dated prices, tax and exchange rates: what held on a day, and who said so."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Protocol, TypeVar

from planner.costing.figures import Given
from planner.costing.lines import CostKind
from planner.costing.options import OptionKind
from planner.domain.errors import InvalidValueError
from planner.domain.money import Money, Rounding
from planner.domain.sentences import _

PriceKind = CostKind | OptionKind

# What a price list can hold; tax and rework are worked out, and a repair has a sheet.
PRICED: tuple[PriceKind, ...] = (
    CostKind.LABOUR,
    CostKind.MATERIAL,
    CostKind.ENERGY,
    CostKind.HEATER_SET,
    CostKind.BAY,
    CostKind.TRANSPORT,
    CostKind.INSPECTION,
    CostKind.DISPOSAL,
    OptionKind.NEW,
    OptionKind.RETREAD,
    OptionKind.SEND_OUT,
)


class Dated(Protocol):
    """Anything that holds from a day on."""

    @property
    def effective_from(self) -> date:
        """The first day on which it holds."""


DatedT = TypeVar("DatedT", bound=Dated)


@dataclass(frozen=True, slots=True, kw_only=True)
class DatedPrice:
    """A price per unit from a day on; labour bears a share of `loading`, overtime pays `overtime_factor`.

    `givens` are what it was worked out from, where it is not listed; `left_hours` is for how many hours more
    it is charged at all, where that ends [h].
    """

    kind: PriceKind
    item: str
    unit: str
    price: Money
    effective_from: date
    source: str
    loading: Decimal = Decimal(0)
    overtime_factor: Decimal = Decimal(1)
    givens: tuple[Given, ...] = ()
    left_hours: Decimal | None = None

    def __post_init__(self) -> None:
        if self.price.amount < 0 or self.loading < 0:
            raise InvalidValueError(
                _(
                    "the price and the loading of {kind} {item} must not be negative",
                    kind=self.kind,
                    item=self.item,
                )
            )
        if self.overtime_factor < 1:
            raise InvalidValueError(
                _("overtime of {item} must pay at least the ordinary rate", item=self.item)
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class DatedRate:
    """A share (tax) or a factor (one unit of `name` in the site's currency) from a day on."""

    name: str
    rate: Decimal
    effective_from: date
    source: str

    def __post_init__(self) -> None:
        if self.rate < 0:
            raise InvalidValueError(_("the rate of {name} must not be negative", name=self.name))


def held_on(values: Iterable[DatedT], day: date) -> DatedT | None:
    """The latest of them that already held on the day; None where the first begins later."""
    return max((value for value in values if value.effective_from <= day), key=_begin, default=None)


def _begin(value: Dated) -> date:
    return value.effective_from


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPrice:
    """A price on a day in the site's currency, with what it was made from."""

    unit: str
    price: Money
    loading: Decimal
    overtime_factor: Decimal
    givens: tuple[Given, ...]
    left_hours: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RateBook:
    """Every price, tax rate and exchange rate of a site, all dated."""

    currency: str
    prices: tuple[DatedPrice, ...]
    tax: tuple[DatedRate, ...] = ()
    exchange: tuple[DatedRate, ...] = ()
    taxed: frozenset[CostKind] = frozenset()
    rounding: Rounding = Rounding.HALF_UP

    def price_on(self, kind: PriceKind, item: str, day: date) -> DayPrice:
        """The price that held on the day, in the site's currency, unrounded; UserError where none did."""
        found = held_on((price for price in self.prices if (price.kind, price.item) == (kind, item)), day)
        if found is None:
            raise InvalidValueError(
                _(
                    "no price of {kind} {item} holds on {day}; enter one that begins by then",
                    kind=kind,
                    item=item,
                    day=day,
                )
            )
        price, givens = self.converted(found.price, day)
        return DayPrice(
            unit=found.unit,
            price=price,
            loading=found.loading,
            overtime_factor=found.overtime_factor,
            givens=(_price_given(found), *found.givens, *givens),
            left_hours=found.left_hours,
        )

    def converted(self, money: Money, day: date) -> tuple[Money, tuple[Given, ...]]:
        """The money in the site's currency at the rate that held on the day, unrounded, and that rate."""
        if money.currency == self.currency:
            return money, ()
        rate = held_on((rate for rate in self.exchange if rate.name == money.currency), day)
        if rate is None:
            raise InvalidValueError(
                _(
                    "no exchange rate of {currency} to {self_currency} holds on {day}",
                    currency=money.currency,
                    self_currency=self.currency,
                    day=day,
                )
            )
        unit = f"{self.currency} per {money.currency}"
        given = Given(label="exchange rate", value=rate.rate, unit=unit, source=_since(rate.source, rate))
        return Money(money.amount * rate.rate, self.currency), (given,)

    def taxes_on(self, day: date) -> tuple[DatedRate, ...]:
        """Each tax at the rate that held on the day, by name."""
        names = sorted({rate.name for rate in self.tax})
        found = (held_on((rate for rate in self.tax if rate.name == name), day) for name in names)
        return tuple(rate for rate in found if rate is not None)


def _price_given(found: DatedPrice) -> Given:
    unit = f"{found.price.currency} per {found.unit}"
    label = "worked-out price" if found.givens else "listed price"
    return Given(label=label, value=found.price.amount, unit=unit, source=_since(found.source, found))


def _since(source: str, value: Dated) -> str:
    return f"{source}, from {value.effective_from}"
