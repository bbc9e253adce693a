"""Reading where somebody belongs."""

from django.db.models import QuerySet

from planner.models import Site, SiteMembership, User


def membership_list(*, user: User) -> QuerySet[SiteMembership]:
    """The user's own memberships with their sites, by the site's name."""
    return SiteMembership.objects.filter(user=user).select_related("site").order_by("site__name")


def member_user_list(*, site: Site) -> QuerySet[User]:
    """Who belongs to the site; whoever asks was let in already."""
    return User.objects.filter(memberships__site=site).order_by("username")
