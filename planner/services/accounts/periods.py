"""Closing a month of the books."""

from datetime import date

from django.utils import timezone

from planner.domain.errors import ConflictError, InvalidValueError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CostPeriod, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.accounts.books import last_closed, month_closed, month_of, site_day
from planner.selectors.accounts.months import unbooked_orders
from planner.services.rows import row_add


def period_close(*, user: User, site: Site, month: date, why: str = "") -> CostPeriod:
    """Close a month that is over; nothing that would change it is accepted any more."""
    require_on_site(user=user, site=site, action=Action.MONEY_CHANGE)
    if month_of(month) >= month_of(site_day(site)):
        raise InvalidValueError(
            _("{month:%B %Y} is not over: it can be closed from the next month on", month=month)
        )
    if month_closed(site=site, day=month):
        raise ConflictError(_("{month:%B %Y} is closed already", month=month))
    _refuse_unbooked(user, site, month_of(month))
    period = CostPeriod(site=site, month=month_of(month), closed_by=user, closed_at=timezone.now())
    row_add(user=user, site=site, row=period, action="period_close", why=why)
    return period


def _refuse_unbooked(user: User, site: Site, month: date) -> None:
    """A month is not closed while repairs that ended in it, or before, are not booked."""
    rows = unbooked_orders(user=user, site=site)
    late = [str(row) for row in rows if month_of(site_day(site, row.closed_at)) <= month]
    if late:
        more = _(" and {count} more", count=len(late) - 3) if len(late) > 3 else ""
        raise ConflictError(
            _(
                "{month:%B %Y} is not complete: book {late}{more} first",
                month=month,
                late=tuple(late[:3]),
                more=more,
            )
        )


def refuse_closed(*, site: Site, day: date) -> None:
    """Raise ConflictError where the day lies in a closed month, or before one."""
    last = last_closed(site)
    if last is not None and last.month >= month_of(day):
        raise ConflictError(
            _(
                "{last} is closed, and {day} is not after it: let the change begin with the next month",
                last=last,
                day=day,
            )
        )
