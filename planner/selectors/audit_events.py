"""Reading who did what, and proving that nothing was changed afterwards."""

from django.db.models import QuerySet

from planner.domain.permissions import Action
from planner.models import AuditEvent, Site, User
from planner.selectors.access import require_on_site


def audit_event_list(*, user: User, site: Site, noun: str = "", noun_id: str = "") -> QuerySet[AuditEvent]:
    """The site's events, newest first; of one noun, or of one thing, where these are given."""
    require_on_site(user=user, site=site, action=Action.AUDIT_READ)
    events = AuditEvent.objects.filter(site=site).select_related("user")
    if noun:
        events = events.filter(noun=noun)
    return events.filter(noun_id=noun_id) if noun_id else events
