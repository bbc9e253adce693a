"""Reading one's own views of the queue."""

from django.db.models import QuerySet

from planner.domain.permissions import Action
from planner.models import QueueView, Site, User
from planner.selectors.access import require_on_site


def queue_view_list(*, user: User, site: Site) -> QuerySet[QueueView]:
    """The user's own views, by name."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return QueueView.objects.filter(user=user, site=site)
