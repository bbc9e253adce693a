"""Who is what on which site. Every other selector and service comes through here."""

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action, Role, may, require
from planner.models import Site, SiteMembership, User


def site_list(*, user: User) -> QuerySet[Site]:
    """The sites that the user belongs to, by name."""
    if not user.is_active:
        return Site.objects.none()
    return Site.objects.filter(pk__in=SiteMembership.objects.filter(user=user).values("site"))


def site_get(*, user: User, code: str) -> Site:
    """The site with this code; NotFoundError where it is none of the user's."""
    site = site_list(user=user).filter(code=code).first()
    if site is None:
        raise NotFoundError(f"there is no site {code} among yours")
    return site


def role_get(*, user: User, site: Site) -> Role | None:
    """What the user is on the site; None for a stranger."""
    if not user.is_active:
        return None
    role = SiteMembership.objects.filter(user=user, site=site).values_list("role", flat=True).first()
    return None if role is None else Role(role)


def may_on_site(*, user: User, site: Site, action: Action) -> bool:
    """Whether the user may do this on the site."""
    return may(role_get(user=user, site=site), action)


def require_on_site(*, user: User, site: Site, action: Action) -> None:
    """Raise NotAllowedError where the user may not do this; NotFoundError where the site is not theirs."""
    role = role_get(user=user, site=site)
    if role is None:
        raise NotFoundError(f"there is no site {site.code} among yours")
    require(role, action)


def actions_get(*, user: User, site: Site) -> frozenset[Action]:
    """Everything that the user may do on the site, for pages that show only what can be done."""
    role = role_get(user=user, site=site)
    return frozenset(action for action in Action if may(role, action))
