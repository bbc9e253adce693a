"""Making and stopping secret addresses from which calendars read."""

import secrets

from django.db import transaction
from django.utils import timezone

from planner.domain.feeds import FeedKind
from planner.domain.permissions import Action
from planner.models import CalendarFeed, Site, User
from planner.selectors.access import require_on_site
from planner.selectors.api_tokens import secret_digest
from planner.services.rows import row_add, row_change


def calendar_feed_make(*, user: User, site: Site, kind: FeedKind) -> tuple[CalendarFeed, str]:
    """Make a feed and its secret, which is told this once; an earlier one of the kind stops."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    secret = secrets.token_urlsafe(32)
    with transaction.atomic():
        calendar_feed_stop(user=user, site=site, kind=kind)
        row = CalendarFeed(
            site=site, user=user, kind=kind, secret_sha256=secret_digest(secret), made_at=timezone.now()
        )
        row_add(user=user, site=site, row=row, action="calendar_feed_make")
    return row, secret


def calendar_feed_stop(*, user: User, site: Site, kind: FeedKind) -> None:
    """Stop the user's own feed of the kind at once; nothing where there is none."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    with transaction.atomic():
        rows = CalendarFeed.objects.select_for_update().filter(user=user, site=site, kind=kind)
        row = rows.filter(revoked_at__isnull=True).first()
        if row is not None:
            values = {"revoked_at": timezone.now()}
            row_change(user=user, site=site, row=row, values=values, action="calendar_feed_stop")
