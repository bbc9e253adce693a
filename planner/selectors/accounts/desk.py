"""The books of a site as they stand on a day: what many comparisons share."""

from dataclasses import dataclass
from datetime import date

from planner.costing.assumptions import Assumed
from planner.costing.rates import RateBook
from planner.models import Site
from planner.selectors.accounts.books import assumed_get, rate_book_get, site_day
from planner.selectors.accounts.planned_work import Grades, grades_get


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What many comparisons of a site share on a day."""

    site: Site
    day: date
    book: RateBook
    assumed: Assumed
    grades: Grades


def desk_get(*, site: Site) -> Desk:
    """The books as they stand today."""
    day = site_day(site)
    return Desk(
        site=site,
        day=day,
        book=rate_book_get(site=site),
        assumed=assumed_get(site=site, day=day),
        grades=grades_get(site=site),
    )
