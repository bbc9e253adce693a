"""What a heater set loses in worth in a year or an hour, by four methods.

Source of the yearly methods: R. Panneerselvam, Engineering Economics, chapter 9.
"""

from dataclasses import dataclass
from decimal import Decimal

from planner.domain.errors import InvalidValueError
from planner.domain.money import Money
from planner.domain.sentences import _


@dataclass(frozen=True, slots=True, kw_only=True)
class Asset:
    """Something bought at `cost`, worth `salvage` after `life_years` [years]."""

    cost: Money
    salvage: Money
    life_years: int

    def __post_init__(self) -> None:
        if self.life_years < 1:
            raise InvalidValueError(_("the life of an asset must be at least one year"))
        if self.cost < self.salvage:
            raise InvalidValueError(_("an asset must not be worth more at the end than at first"))

    @property
    def loss(self) -> Money:
        """What it loses over its whole life."""
        return self.cost - self.salvage


def straight_line(asset: Asset, year: int) -> Money:
    """The same charge in each year of its life; `year` counts from 1 [year]."""
    _year_in_life(asset, year)
    return asset.loss / asset.life_years


def declining_balance(asset: Asset, year: int, share: Decimal) -> Money:
    """A fixed share of the worth at the year's start, never below salvage; `year` counts from 1 [year]."""
    _year_in_life(asset, year)
    if not 0 < share < 1:
        raise InvalidValueError(_("the share of a declining balance must be between 0 and 1"))
    worth = asset.cost * (1 - share) ** (year - 1)
    left = max(worth.amount - asset.salvage.amount, Decimal(0))
    return Money(min(worth.amount * share, left), asset.cost.currency)


def sum_of_digits(asset: Asset, year: int) -> Money:
    """The loss shared by the years still to come; `year` counts from 1 [year]."""
    _year_in_life(asset, year)
    digits = asset.life_years * (asset.life_years + 1) // 2
    return asset.loss * (asset.life_years - year + 1) / digits


def by_hours(asset: Asset, life_hours: Decimal) -> Money:
    """The charge for each hour of use, where worth goes with the hours and not with the years [per h]."""
    _positive_hours(life_hours)
    return asset.loss / life_hours


def hourly_charge(yearly: Money, hours_a_year: Decimal) -> Money:
    """A year's charge spread over the hours of that year [per h]."""
    _positive_hours(hours_a_year)
    return yearly / hours_a_year


def _positive_hours(hours: Decimal) -> None:
    if hours <= 0:
        raise InvalidValueError(_("hours of use must be more than 0"))


def _year_in_life(asset: Asset, year: int) -> None:
    if not 1 <= year <= asset.life_years:
        raise InvalidValueError(
            _("year {year} is not in a life of {life_years} years", year=year, life_years=asset.life_years)
        )
