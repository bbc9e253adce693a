"""Reading calendar feeds: one's own, and the one behind a secret address."""

from planner.domain.errors import NotFoundError
from planner.domain.feeds import FeedKind
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import CalendarFeed, Site, User
from planner.selectors.access import may_on_site, require_on_site
from planner.selectors.api_tokens import secret_digest


def calendar_feed_list(*, user: User, site: Site) -> dict[FeedKind, CalendarFeed]:
    """The user's own feeds that work, by kind."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    rows = CalendarFeed.objects.filter(user=user, site=site, revoked_at__isnull=True)
    return {FeedKind(row.kind): row for row in rows}


def calendar_feed_of(*, secret: str) -> CalendarFeed:
    """The feed of a secret; NotFoundError where there is none, it was stopped, or its user lost the site."""
    rows = CalendarFeed.objects.filter(secret_sha256=secret_digest(secret), revoked_at__isnull=True)
    row = rows.select_related("user", "site").first()
    if row is None or not may_on_site(user=row.user, site=row.site, action=Action.SITE_READ):
        raise NotFoundError(_("there is no such calendar"))
    return row
