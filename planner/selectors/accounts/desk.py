"""The books of a site as they stand on a day: what many comparisons share."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from planner.costing.assumptions import Assumed, Assumption
from planner.costing.rates import RateBook
from planner.models import Site, WorkOrder
from planner.selectors.accounts.bay import CostedBay, costed_bay_get
from planner.selectors.accounts.books import assumed_get, rate_book_get, site_day


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What many comparisons of a site share on a day."""

    site: Site
    day: date
    book: RateBook
    assumed: Assumed
    bay: CostedBay

    def changed(self, name: Assumption, value: Decimal) -> "Desk":
        """The same with one assumption changed, and with all that is worked out from it."""
        assumed = self.assumed.changed(name, value)
        return replace(self, assumed=assumed, book=rate_book_get(site=self.site, assumed=assumed))


def desk_get(*, site: Site, day: date | None = None, order: WorkOrder | None = None) -> Desk:
    """The books as they stand on the day, or today; where one order is named, for that order alone."""
    day = day or site_day(site)
    assumed = assumed_get(site=site, day=day)
    book = rate_book_get(site=site, assumed=assumed)
    bay = costed_bay_get(site=site, order=order)
    return Desk(site=site, day=day, book=book, assumed=assumed, bay=bay)
