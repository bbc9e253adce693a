"""Reading where somebody belongs."""

from django.db.models import QuerySet

from planner.models import SiteMembership, User


def membership_list(*, user: User) -> QuerySet[SiteMembership]:
    """The user's own memberships with their sites, by the site's name."""
    return SiteMembership.objects.filter(user=user).select_related("site").order_by("site__name")
