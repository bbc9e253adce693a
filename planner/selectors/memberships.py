"""Reading where somebody belongs."""

from django.contrib.auth.hashers import UNUSABLE_PASSWORD_PREFIX
from django.db.models import QuerySet

from planner.domain.permissions import Action
from planner.models import Site, SiteMembership, User
from planner.selectors.access import require_on_site


def membership_list(*, user: User) -> QuerySet[SiteMembership]:
    """The user's own memberships with their sites, by the site's name."""
    return SiteMembership.objects.filter(user=user).select_related("site").order_by("site__name")


def member_waiting_list(*, user: User, site: Site) -> QuerySet[SiteMembership]:
    """Who belongs to the site and has no password yet, so that they cannot sign in."""
    require_on_site(user=user, site=site, action=Action.MEMBER_CHANGE)
    waiting = SiteMembership.objects.filter(site=site, user__is_active=True)
    return (
        waiting.filter(user__password__startswith=UNUSABLE_PASSWORD_PREFIX)
        .select_related("user")
        .order_by("user__username")
    )


def member_user_list(*, site: Site) -> QuerySet[User]:
    """Who belongs to the site; whoever asks was let in already."""
    return User.objects.filter(memberships__site=site).order_by("username")
