"""The price of a heater set's hour, worked out from what the set cost, is worth at the end, and lasts."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import IntEnum

from planner.costing.depreciation import (
    Asset,
    by_hours,
    declining_balance,
    hourly_charge,
    straight_line,
    sum_of_digits,
)
from planner.costing.figures import Given
from planner.costing.lines import CostKind
from planner.costing.rates import DatedPrice
from planner.domain.money import Money


class WritingOff(IntEnum):
    """How the worth of a set goes; the number is the one that the site assumes."""

    STRAIGHT_LINE = 1
    BY_HOURS = 2
    DECLINING_BALANCE = 3
    SUM_OF_DIGITS = 4

    @property
    def words(self) -> str:
        """The way in plain words."""
        return self.name.replace("_", " ").lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTerms:
    """What the site assumes for all its sets: the way, hours of use in a year [h], share lost a year [1]."""

    way: WritingOff
    hours_a_year: Decimal
    share: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterSetAsset:
    """A set as it was bought; `life_hours` and `used_hours` count where it is written off by hours [h]."""

    heater_set: str
    asset: Asset
    bought_on: date
    life_hours: Decimal
    source: str
    used_hours: Decimal = Decimal(0)

    @property
    def left_hours(self) -> Decimal:
        """The hours of its life that are not used yet [h]."""
        return max(self.life_hours - self.used_hours, Decimal(0))


def hour_prices(owned: HeaterSetAsset, terms: SetTerms) -> Iterator[DatedPrice]:
    """A price for each year of its life and nothing afterwards; by hours, one price for the hours left."""
    if terms.way is WritingOff.BY_HOURS:
        yield _price(owned, terms, by_hours(owned.asset, owned.life_hours), year=1)
        return
    for year in range(1, owned.asset.life_years + 1):
        charge = _charge(owned.asset, terms, year)
        yield _price(owned, terms, hourly_charge(charge, terms.hours_a_year), year)
    yield _price(owned, terms, owned.asset.cost * 0, owned.asset.life_years + 1)


def _charge(asset: Asset, terms: SetTerms, year: int) -> Money:
    if terms.way is WritingOff.DECLINING_BALANCE:
        return declining_balance(asset, year, terms.share)
    return (straight_line if terms.way is WritingOff.STRAIGHT_LINE else sum_of_digits)(asset, year)


def _price(owned: HeaterSetAsset, terms: SetTerms, price: Money, year: int) -> DatedPrice:
    return DatedPrice(
        kind=CostKind.HEATER_SET,
        item=owned.heater_set,
        unit="h",
        price=price,
        effective_from=_anniversary(owned.bought_on, year - 1),
        source=f"worked out, {terms.way.words}, year {year}",
        givens=tuple(_givens(owned, terms)),
        left_hours=owned.left_hours if terms.way is WritingOff.BY_HOURS else None,
    )


def _givens(owned: HeaterSetAsset, terms: SetTerms) -> Iterator[Given]:
    asset, source = owned.asset, owned.source
    yield Given(label="first cost", value=asset.cost.amount, unit=asset.cost.currency, source=source)
    yield Given(label="worth at the end", value=asset.salvage.amount, unit=asset.cost.currency, source=source)
    if terms.way is WritingOff.BY_HOURS:
        yield Given(label="life", value=owned.life_hours, unit="h", source=source)
        yield Given(label="used before", value=owned.used_hours, unit="h", source="booked repairs")
        return
    yield Given(label="life", value=Decimal(asset.life_years), unit="years", source=source)
    yield Given(label="use in a year", value=terms.hours_a_year, unit="h", source="assumed by the site")
    if terms.way is WritingOff.DECLINING_BALANCE:
        yield Given(
            label="share lost in a year", value=terms.share, unit="share", source="assumed by the site"
        )


def _anniversary(day: date, years: int) -> date:
    """The same day so many years later; the 29th of February becomes the 28th."""
    last = 28 if (day.month, day.day) == (2, 29) else day.day
    return day.replace(year=day.year + years, day=last)
