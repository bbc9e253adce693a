"""Who is what on which site. Every other selector and service comes through here."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from django.db.models import QuerySet

from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action, Role, may, require
from planner.domain.sentences import _
from planner.models import Site, SiteMembership, User

_KNOWN: ContextVar[dict[tuple[int, int], Role | None] | None] = ContextVar("roles known", default=None)


@contextmanager
def roles_asked_once() -> Iterator[None]:
    """Ask each role once while this lasts: for one request that only reads, never for one that writes."""
    token = _KNOWN.set({})
    try:
        yield
    finally:
        _KNOWN.reset(token)


def site_list(*, user: User) -> QuerySet[Site]:
    """The sites that the user belongs to, by name."""
    if not user.is_active:
        return Site.objects.none()
    return Site.objects.filter(pk__in=SiteMembership.objects.filter(user=user).values("site"))


def site_get(*, user: User, code: str) -> Site:
    """The site with this code; NotFoundError where it is none of the user's."""
    site = site_list(user=user).filter(code=code).first()
    if site is None:
        raise NotFoundError(_("there is no site {code} among yours", code=code))
    return site


def role_get(*, user: User, site: Site) -> Role | None:
    """What the user is on the site; None for a stranger."""
    if not user.is_active:
        return None
    known, key = _KNOWN.get(), (user.pk, site.pk)
    if known is None:
        return _role_asked(user, site)
    if key not in known:
        known[key] = _role_asked(user, site)
    return known[key]


def may_on_site(*, user: User, site: Site, action: Action) -> bool:
    """Whether the user may do this on the site."""
    return may(role_get(user=user, site=site), action)


def require_on_site(*, user: User, site: Site, action: Action) -> None:
    """Raise NotAllowedError where the user may not do this; NotFoundError where the site is not theirs."""
    role = role_get(user=user, site=site)
    if role is None:
        raise NotFoundError(_("there is no site {code} among yours", code=site.code))
    require(role, action)


def actions_get(*, user: User, site: Site) -> frozenset[Action]:
    """Everything that the user may do on the site, for pages that show only what can be done."""
    role = role_get(user=user, site=site)
    return frozenset(action for action in Action if may(role, action))


def _role_asked(user: User, site: Site) -> Role | None:
    role = SiteMembership.objects.filter(user=user, site=site).values_list("role", flat=True).first()
    return None if role is None else Role(role)
